import { containsPoint } from '../../geometry/area';
import { intersectPaths } from '../../geometry/intersect';
import { distanceAt, pathLength, pathPointAt, subPath } from '../../geometry/path';
import { angleBetween, distance, mix, type Point, subtract } from '../../geometry/point';
import { movePath, movePoint, type RigidMove, stayPut } from '../../geometry/rigidMove';
import { type Path, type Segment, segmentPointAt } from '../../geometry/segment';
import { cutEndReach, samePoint } from '../../geometry/tolerance';
import type { Dart, InternalLine, Piece } from '../../pattern/piece';
import type { CarriedMarks, TracedSegment, WorkedEdge } from '../worked';
import type { CutPiece } from './cutPiece';
import { closesDart } from './dartCrossing';

/** The panels as placed, nearest to the fixed one first, for finding what a mark moves with. */
export interface PlacedPanels {
  readonly cutPiece: CutPiece;
  readonly moves: readonly (RigidMove | null)[];
  readonly order: readonly number[];
}

/**
 * Carries the marks of a piece: a mark moves with the panel it lies on, and on a cut with the panel nearer the fixed one.
 * Marks on a part that was taken away go with it. Internal lines come apart at the cuts. The grainline stays.
 */
export function carryMarks(piece: Piece, placed: PlacedPanels, edges: readonly WorkedEdge[]): CarriedMarks {
  return {
    notches: piece.notches.flatMap(({ id, edge, distance: along, style }) => {
      const at = notchPlace(piece, edges, edge, along);
      return at === null ? [] : [{ id, edge, at, style }];
    }),
    drillHoles: piece.drillHoles.flatMap(({ id, at }) => {
      const move = moveAt(placed, at);
      return move === null ? [] : [{ id, at: movePoint(move, at) }];
    }),
    darts: piece.darts.flatMap((dart) => carryDart(placed, dart)),
    internalLines: [...piece.internalLines.map((one) => carryLine(placed, one)), ...fullnessLines(placed)],
    grainline: piece.grainline,
  };
}

/** The move of the panel that holds a point; null on a part taken away. A point off the piece stays. */
function moveAt({ cutPiece: { panels, dropped }, moves, order }: PlacedPanels, p: Point): RigidMove | null {
  const panel = order.find((index) => containsPoint(panels[index]!.segments, p));
  if (panel !== undefined) return moves[panel]!;
  return dropped.some((gone, index) => gone && containsPoint(panels[index]!.segments, p)) ? null : stayPut;
}

/** Where a notch lies on the placed edge; where the outline was cut back over it, the nearest place left. */
function notchPlace(piece: Piece, edges: readonly WorkedEdge[], edgeId: string, along: number): Point | null {
  const edge = piece.edges.find(({ id }) => id === edgeId);
  if (edge === undefined) return null;
  const { segment, t } = pathPointAt(edge.path, along);
  const own = edges.find(({ id }) => id === edgeId)!.segments.filter(({ origin }) => origin.kind === 'own');
  const position = segment + t;
  let best: { at: Point; off: number; panel: number } | null = null;
  for (const traced of own) {
    const [low, high, panel] = span(traced);
    const clamped = Math.min(Math.max(position, low), high);
    const off = Math.abs(clamped - position);
    if (best === null || off < best.off || (off === best.off && panel < best.panel)) {
      best = { at: segmentPointAt(traced.segment, high > low ? (clamped - low) / (high - low) : 0), off, panel };
    }
  }
  return best?.at ?? null;
}

function span({ origin }: TracedSegment): readonly [number, number, number] {
  return origin.kind === 'own' ? [origin.segment + origin.from, origin.segment + origin.to, origin.panel] : [0, 0, 0];
}

function carryDart(placed: PlacedPanels, dart: Dart): CarriedMarks['darts'] {
  const closing = placed.cutPiece.cuts.find(
    ({ cut }) => cut.opening.kind === 'dart' && closesDart(cut.opening.legs, dart),
  );
  // A leg lies on the outline; a closed dart's wedge is gone, so its leg belongs to the cloth beside it. An open dart may
  // be halved by a cut through its tip: a point just inside the dart beside the leg tells which half the leg is on.
  const inside = mix(mix(dart.legs[0], dart.legs[1], 0.5), dart.apex, 0.5);
  const legMove = (leg: Point) => moveAt(placed, closing === undefined ? mix(leg, inside, 0.1) : leg);
  const apexMove = moveAt(placed, dart.apex);
  const first = legMove(dart.legs[0]);
  const second = legMove(dart.legs[1]);
  if (apexMove === null || first === null || second === null) return [];
  const legs = [movePoint(first, dart.legs[0]), movePoint(second, dart.legs[1])] as const;
  const apex = movePoint(apexMove, dart.apex);
  // Told by the angle left, since legs of uneven length lie on each other without meeting.
  const left = Math.abs(angleBetween(subtract(legs[0], apex), subtract(legs[1], apex)));
  if (closing !== undefined && left * distance(apex, legs[0]) <= cutEndReach) return [];
  return [{ id: dart.id, edge: dart.edge, apex, legs }];
}

function carryLine(placed: PlacedPanels, { id, name, path }: InternalLine): CarriedMarks['internalLines'][number] {
  const paths: Segment[][] = [];
  for (const part of partsBetweenCuts(placed.cutPiece, path)) {
    const middle = part[Math.floor(part.length / 2)]!;
    const move = moveAt(placed, segmentPointAt(middle, 0.5));
    if (move === null) continue;
    const moved = movePath(move, part);
    const last = paths[paths.length - 1];
    if (last !== undefined && distance(last[last.length - 1]!.end, moved[0]!.start) <= samePoint) last.push(...moved);
    else paths.push([...moved]);
  }
  return { id, name, paths, broken: paths.length > 1 };
}

/** The line taken apart wherever a cut crosses it. */
function partsBetweenCuts({ cuts }: CutPiece, path: Path): Path[] {
  const places = cuts
    .flatMap((cut) => intersectPaths(path, cut.path).map(({ segmentA, ta }) => distanceAt(path, segmentA, ta)))
    .sort((a, b) => a - b);
  const ends = [...places, pathLength(path)];
  return ends
    .map((end, index) => subPath(path, index === 0 ? 0 : ends[index - 1]!, end))
    .filter((part) => pathLength(part) > samePoint);
}

/** The upper bank of a cut fullness line: all that is left of the line once its wedge has become cloth. */
function fullnessLines({ cutPiece, moves, order }: PlacedPanels): CarriedMarks['internalLines'] {
  return cutPiece.cuts.flatMap(({ cut, path }) => {
    if (cut.opening.kind !== 'centre') return [];
    const index = cutPiece.cuts.findIndex((made) => made.cut === cut);
    const sides = [...cutPiece.left[index]!, ...cutPiece.right[index]!];
    const upper = order.find((panel) => sides.some((part) => part.panel === panel));
    return upper === undefined
      ? []
      : [{ id: cut.id, name: cut.name, paths: [movePath(moves[upper]!, path)], broken: false }];
  });
}
