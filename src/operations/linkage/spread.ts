import { segmentLength } from '../../geometry/arcLength';
import { enclosedArea } from '../../geometry/area';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { pathLength } from '../../geometry/path';
import { dot, quarterTurn, subtract, unit } from '../../geometry/point';
import { movePoint, type RigidMove } from '../../geometry/rigidMove';
import type { Segment } from '../../geometry/segment';
import type { Piece } from '../../pattern/piece';
import type { FannedPiece, OpenedCut, PlacedPanel, TracedSegment, WorkedEdge } from '../worked';
import { assembleEdges } from './assemble';
import { checkBanks } from './banks';
import type { CutPiece } from './cutPiece';
import { cutUp } from './cutUp';
import { openedCuts } from './gaps';
import { carryMarks } from './marks';
import { walkOutline } from './outline';
import { type PlacedCuts, placeAll } from './placeAll';
import type { SpreadPlan } from './plan';
import { turnSide } from './sideTurn';
import { type OutlineBodies, outlineMeetsItself } from './simpleOutline';

/**
 * Cuts a piece as planned, opens the cuts about their hinges and redraws the outline round it all.
 *
 * The result is exact: panels only turn and shift (docs/maths/linkage.md), untouched curves are the block's own curves
 * moved, gaps are straight. Lengths in mm, angles in radians, areas in mm2. Refusals (code, and a sentence that says
 * what to do): unknown-edge, cut-repeated, cut-misses-edge, cuts-cross, cuts-meet-at-hinge, cut-has-no-length,
 * hinge-off-cut, hinge-inside-cut, slash-ends-on-uncut-line, cut-crosses-dart, slash-misses-apex, dart-fraction,
 * dart-overclosed, strip-too-thin, drop-outside, fixed-point-outside, opening-too-wide, opening-mixed,
 * opening-not-a-number, turn-too-far, linkage-loop, panels-come-apart, centre-strip-not-carried, corner-out-of-reach,
 * corner-lifts-strips, overlap-too-deep, overlap-shared-end, side-turn-not-at-hem, side-turn-out-of-range,
 * hinge-off-edge, hinge-at-hem, banks-overlap, outline-crosses-itself.
 */
export function openCuts(piece: Piece, plan: SpreadPlan): Outcome<FannedPiece> {
  const hem = piece.edges.find(({ id }) => id === plan.hem);
  if (hem === undefined) return fail('unknown-edge', `${piece.name} has no edge "${plan.hem}" to be its hem.`);
  const cut = cutUp(piece, plan.cuts);
  if (!cut.ok) return cut;
  const cutPiece = cut.value;
  const placed = placeAll(cutPiece, plan);
  if (!placed.ok) return placed;
  const { joints, jointOf, placement, centre } = placed.value;
  const { moves, order } = placement;

  const rank = cutPiece.panels.map(() => -1);
  order.forEach((panel, index) => {
    rank[panel] = index;
  });
  const biting = checkBanks(cutPiece, moves, joints, jointOf);
  if (biting !== null) return biting;
  const opened = openedCuts(cutPiece, moves, joints, jointOf);
  const overclosed = opened.find(({ gapArea }, index) => cutPiece.cuts[index]!.cut.drop !== null && gapArea < -1e-6);
  if (overclosed !== undefined) {
    return fail('dart-overclosed', 'The dart would be closed by more than all of it. Close less of it.');
  }
  const assembled = assembleEdges(cutPiece, moves, rank, walkOutline(cutPiece, moves, rank));
  if (!assembled.ok) return assembled;
  let edges: readonly WorkedEdge[] = assembled.value;
  for (const turn of plan.sideTurns) {
    const turned = turnSide(piece, edges, plan.hem, turn);
    if (!turned.ok) return turned;
    edges = turned.value.edges;
    opened.push(turned.value.opened);
  }
  const outline = outlineOf(edges, plan);
  if (outlineMeetsItself(outline)) {
    return fail(
      'outline-crosses-itself',
      'Opened this far, the piece runs into itself. Use smaller openings, fewer slash lines, or another place for them.',
    );
  }
  const sweepBefore = pathLength(hem.path);
  return succeed({
    source: piece,
    closed: null,
    edges,
    panels: order.map(
      (panel, index): PlacedPanel => ({
        index,
        boundary: cutPiece.panels[panel]!.segments,
        move: moves[panel]!,
        area: cutPiece.areas[panel]!,
      }),
    ),
    cuts: opened,
    marks: carryMarks(piece, { cutPiece, moves, order }, edges),
    ...centreShift(cutPiece, moves, centre),
    totalTurn: totalTurn(cutPiece, opened, centre),
    areaBefore: enclosedArea(piece.edges.flatMap(({ path }) => path)),
    areaAfter: enclosedArea(outline.segments),
    sweepBefore,
    ...sweeps(edges.find(({ id }) => id === plan.hem)!.segments, opened),
  });
}

/** The outline as a whole; a side that was turned outward no longer moves with its panel. */
function outlineOf(edges: readonly WorkedEdge[], plan: SpreadPlan): OutlineBodies {
  const segments: Segment[] = [];
  const bodies: number[] = [];
  for (const edge of edges) {
    const turned = plan.sideTurns.some((turn) => turn.edge === edge.id);
    for (const { segment, origin } of edge.segments) {
      segments.push(segment);
      bodies.push(origin.kind === 'own' && !turned ? origin.panel : -1);
    }
  }
  return { segments, bodies };
}

/** How the open end of the fullness line moved on the centre strip, along the centre line (down) and square to it (in). */
function centreShift(
  { cuts }: CutPiece,
  moves: readonly (RigidMove | null)[],
  centre: PlacedCuts['centre'],
): Pick<FannedPiece, 'centreDrop' | 'centreFill'> {
  if (centre === null) return { centreDrop: 0, centreFill: 0 };
  const { openEnd, hinge } = cuts[centre.cut]!;
  const { line, corner } = centre.opening;
  const shift = subtract(movePoint(moves[centre.strip]!, openEnd), openEnd);
  const along = unit(line.direction);
  const across = quarterTurn(along);
  const down = dot(along, subtract(corner, openEnd)) < 0 ? -1 : 1;
  const inward = dot(across, subtract(hinge, openEnd)) < 0 ? -1 : 1;
  return { centreDrop: down * dot(shift, along), centreFill: inward * dot(shift, across) };
}

/** What shows at the side: the turn of the fullness line, or the sum of the slashes' turns without one. */
function totalTurn({ cuts }: CutPiece, opened: readonly OpenedCut[], centre: PlacedCuts['centre']): number {
  if (centre !== null) return opened[centre.cut]!.angle;
  return cuts.reduce((sum, { cut }, index) => (cut.drop === null ? sum + opened[index]!.angle : sum), 0);
}

/** Hem length with its gaps bridged by chords and by arcs; an overlap has no arc. */
function sweeps(
  hem: readonly TracedSegment[],
  opened: readonly OpenedCut[],
): Pick<FannedPiece, 'sweepChord' | 'sweepArc'> {
  const cutById = new Map(opened.map((cut) => [cut.id, cut]));
  let sweepChord = 0;
  let sweepArc = 0;
  for (const { segment, origin } of hem) {
    const length = segmentLength(segment);
    sweepChord += length;
    const gap = origin.kind === 'gap' ? cutById.get(origin.cut) : undefined;
    sweepArc += gap?.radius == null ? length : gap.radius * Math.abs(gap.angle);
  }
  return { sweepChord, sweepArc };
}
