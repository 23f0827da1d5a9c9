import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import type { Point } from '../../geometry/point';
import { moveSegment, type RigidMove } from '../../geometry/rigidMove';
import { cubic, line, type Path, reversePath, reverseSegment } from '../../geometry/segment';
import type { TracedSegment, WorkedEdge } from '../worked';
import type { CutPiece } from './cutPiece';
import { type Break, type BrokenOutline, endsPassed, isJoined } from './outline';
import { joinOverlap } from './overlap';
import { sentenceCase } from './wording';

/**
 * Closes the placed outline: gaps are bridged by their chords, overlaps are cut back to the outline of both layers, and
 * ends that met are made to meet exactly. Every edge of the block comes back, in order. `rank` is a panel's distance from
 * the fixed one.
 */
export function assembleEdges(
  cutPiece: CutPiece,
  moves: readonly (RigidMove | null)[],
  rank: readonly number[],
  outline: BrokenOutline,
): Outcome<WorkedEdge[]> {
  const runs = outline.runs.map(({ edge, segments }) => ({ edge, segments }));
  const bridges: TracedSegment[][] = [];
  for (const [index, breaks] of outline.breaks.entries()) {
    const before = runs[index]!;
    const after = runs[(index + 1) % runs.length]!;
    const bridge: TracedSegment[] = [];
    for (const gap of breaks) {
      if (isJoined(gap)) continue;
      const { cut } = cutPiece.cuts[gap.cut]!;
      if (!laysDouble(cutPiece, gap, before.segments, after.segments)) {
        bridge.push({ segment: line(gap.from, gap.to), origin: { kind: 'gap', cut: cut.id } });
        continue;
      }
      if (breaks.length > 1) {
        return fail(
          'overlap-shared-end',
          `${sentenceCase(cut.name)} overlaps where it shares its open end with another line. Give each overlap its own end.`,
        );
      }
      const [beforeSide, afterSide] = slashEdges(cutPiece, moves, gap);
      const joined = joinOverlap(
        before.segments,
        after.segments,
        beforeSide,
        afterSide,
        rank[gap.before]! < rank[gap.after]!,
      );
      if (joined === null || joined.before.length === 0 || joined.after.length === 0) return tooDeep(cut.name);
      before.segments = joined.before;
      after.segments = joined.after;
      bridge.push(...joined.step.map((segment): TracedSegment => ({ segment, origin: { kind: 'step', cut: cut.id } })));
    }
    bridges.push(bridge);
  }
  const perEdge: TracedSegment[][] = cutPiece.piece.edges.map(() => []);
  runs.forEach(({ edge, segments }, index) => {
    perEdge[edge]!.push(...segments);
    const bridge = bridges[index]!;
    if (bridge.length === 0) return;
    const next = runs[(index + 1) % runs.length]!.edge;
    const owner = outline.breaks[index]![0]!.edge;
    // A gap at a corner that belongs to the first edge comes last on the walk but first on its edge.
    if (owner === next && owner !== edge && index === runs.length - 1) perEdge[owner]!.unshift(...bridge);
    else perEdge[owner === next ? owner : edge]!.push(...bridge);
  });
  weld(perEdge);
  return succeed(
    cutPiece.piece.edges.map(({ id, name, role }, index) => ({ id, name, role, segments: perEdge[index]! })),
  );
}

/** Whether cloth lies double here: the cut overlaps, or the strips of the fullness line were lifted into the piece above. */
function laysDouble(
  { cuts }: CutPiece,
  gap: Break,
  before: readonly TracedSegment[],
  after: readonly TracedSegment[],
): boolean {
  const { opening } = cuts[gap.cut]!.cut;
  switch (opening.kind) {
    case 'centre':
      // A torn hinge is a jog in the seam, not an overlap.
      return gap.open && endsPassed(before.at(-1)!.segment, after[0]!.segment, gap);
    case 'chord':
      return gap.open && opening.width < 0;
    case 'arc':
      return gap.open && opening.length < 0;
    case 'angle':
      return gap.open && opening.angle < 0;
    case 'unequal':
      return opening.far < 0 || opening.near < 0;
    case 'dart':
    case 'none':
      return false;
  }
}

/** The slash edges of the panels before and after a break, as placed, each from the outline inward. */
function slashEdges(
  { panels, left, right }: CutPiece,
  moves: readonly (RigidMove | null)[],
  { cut, before, after, open }: Break,
): readonly [Path, Path] {
  const sideOn = (side: 'left' | 'right', panel: number): Path => {
    const path = (side === 'left' ? left : right)
      [cut]!.filter((part) => part.panel === panel)
      .map((part) => {
        const segment = moveSegment(moves[panel]!, panels[panel]!.segments[part.index]!);
        return side === 'left' ? segment : reverseSegment(segment);
      });
    return open ? path : reversePath(path);
  };
  return open ? [sideOn('left', before), sideOn('right', after)] : [sideOn('right', before), sideOn('left', after)];
}

function tooDeep(name: string): Failure {
  return fail(
    'overlap-too-deep',
    `The overlap at ${name} swallows a whole strip or edge. Overlap less, or move the lines further apart.`,
  );
}

/** Makes every segment start exactly where the one before it ends; the ends that met differ by rounding only. */
function weld(perEdge: TracedSegment[][]): void {
  let end = perEdge.findLast((segments) => segments.length > 0)?.at(-1)?.segment.end;
  for (const segments of perEdge) {
    segments.forEach((traced, index) => {
      if (end !== undefined && traced.segment.start !== end) segments[index] = startingAt(traced, end);
      end = traced.segment.end;
    });
  }
}

function startingAt({ segment, origin }: TracedSegment, start: Point): TracedSegment {
  const moved =
    segment.kind === 'line' ? line(start, segment.end) : cubic(start, segment.control1, segment.control2, segment.end);
  return { segment: moved, origin };
}
