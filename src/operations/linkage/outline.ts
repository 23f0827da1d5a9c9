import { add, distance, dot, type Point, subtract } from '../../geometry/point';
import { movePoint, moveSegment, type RigidMove } from '../../geometry/rigidMove';
import type { Segment } from '../../geometry/segment';
import { unitTangentAt } from '../../geometry/tangent';
import { touchDistance } from '../../geometry/tolerance';
import type { TracedSegment } from '../worked';
import type { CutPiece } from './cutPiece';
import type { EdgeStretch } from './panel';

/** A stretch of the placed outline: one edge on one panel, without a break. */
export interface Run {
  readonly edge: number;
  readonly panel: number;
  segments: TracedSegment[];
}

/** What lies between one run and the next (the last run is followed by the first). */
export interface Break {
  /** The cut that parts them; the one that took a wedge away, where a mouth is left. */
  readonly cut: number;
  /** Edge that a gap here belongs to. */
  readonly edge: number;
  /** Panels of the cut's two sides where they meet the outline, in walking order. */
  readonly before: number;
  readonly after: number;
  readonly from: Point;
  readonly to: Point;
  /** The break is at the open end of the cut. */
  readonly open: boolean;
}

/**
 * The placed outline before gaps are filled: `breaks[i]` are passed between `runs[i]` and the next run, in order; none
 * where one panel carries on round a corner.
 */
export interface BrokenOutline {
  readonly runs: readonly Run[];
  readonly breaks: readonly (readonly Break[])[];
}

/**
 * Walks round the placed panels. Along a panel it follows the border; where a cut meets the border it crosses to the
 * panel on the cut's other side, as often as cuts share that end. Every stretch of block edge is passed once.
 */
export function walkOutline(
  cutPiece: CutPiece,
  moves: readonly (RigidMove | null)[],
  rank: readonly number[],
): BrokenOutline {
  const { panels, piece } = cutPiece;
  const first = firstStretch(cutPiece);
  const runs: Run[] = [];
  const breaks: Break[][] = [];
  let { panel, index } = first;
  let run: Run | null = null;
  do {
    const { segments, stretches } = panels[panel]!;
    const stretch = stretches[index] as EdgeStretch;
    if (run === null || run.edge !== stretch.edge) {
      run = { edge: stretch.edge, panel, segments: [] };
      runs.push(run);
    }
    run.segments.push({
      segment: moveSegment(moves[panel]!, segments[index]!),
      origin: {
        kind: 'own',
        edge: piece.edges[stretch.edge]!.id,
        segment: stretch.segment,
        from: stretch.from,
        to: stretch.to,
        panel: rank[panel]!,
      },
    });
    const step = nextStretch(cutPiece, moves, panel, index);
    const sameRun = step.panel === panel && step.breaks.length === 0;
    const nextEdge = (panels[step.panel]!.stretches[step.index] as EdgeStretch).edge;
    const closed = step.panel === first.panel && step.index === first.index;
    if (!sameRun || nextEdge !== run.edge || closed) {
      breaks[runs.length - 1] = step.breaks;
      run = null;
    }
    ({ panel, index } = step);
  } while (panel !== first.panel || index !== first.index);
  return { runs, breaks };
}

/** The first kept stretch of the block outline. */
function firstStretch({ panels, dropped }: CutPiece): { panel: number; index: number } {
  let best: { panel: number; index: number; stretch: EdgeStretch } | null = null;
  panels.forEach(({ stretches }, panel) => {
    if (dropped[panel]) return;
    stretches.forEach((stretch, index) => {
      if (stretch.kind === 'edge' && (best === null || comesBefore(stretch, best.stretch)))
        best = { panel, index, stretch };
    });
  });
  return best!;
}

function comesBefore(a: EdgeStretch, b: EdgeStretch): boolean {
  return a.edge - b.edge < 0 || (a.edge === b.edge && (a.segment - b.segment || a.from - b.from) < 0);
}

interface Step {
  readonly panel: number;
  readonly index: number;
  readonly breaks: Break[];
}

/** From one stretch of outline to the next one that is kept, crossing whatever cuts meet the border in between. */
function nextStretch(cutPiece: CutPiece, moves: readonly (RigidMove | null)[], panel: number, index: number): Step {
  const { panels, dropped } = cutPiece;
  const breaks: Break[] = [];
  let at = panel;
  let next = (index + 1) % panels[at]!.stretches.length;
  // The panel last seen that is kept, with the border point where it was left.
  let kept = panel;
  let wedgeCut = -1;
  let left = panels[panel]!.segments[index]!.end;
  for (;;) {
    const stretch = panels[at]!.stretches[next]!;
    if (stretch.kind === 'edge') {
      if (!dropped[at]) return { panel: at, index: next, breaks };
      // Along the mouth of a wedge that was taken away.
      next = (next + 1) % panels[at]!.stretches.length;
      continue;
    }
    const made = cutPiece.cuts[stretch.cut]!;
    const atStart = stretch.side === 'left';
    const other = stretch.side === 'left' ? cutPiece.right : cutPiece.left;
    const parts = other[stretch.cut]!;
    const twin = atStart ? parts[0]! : parts[parts.length - 1]!;
    const vertex = atStart ? made.path[0]!.start : made.path[made.path.length - 1]!.end;
    if (made.cut.drop !== null) wedgeCut = stretch.cut;
    if (!dropped[twin.panel]) {
      breaks.push({
        cut: dropped[at] && wedgeCut >= 0 ? wedgeCut : stretch.cut,
        edge: atStart ? made.startEdge : made.endEdge,
        before: kept,
        after: twin.panel,
        from: movePoint(moves[kept]!, left),
        to: movePoint(moves[twin.panel]!, vertex),
        open: atStart,
      });
      kept = twin.panel;
      left = vertex;
    }
    at = twin.panel;
    next = (twin.index + 1) % panels[at]!.stretches.length;
  }
}

/** Whether a break is none: both sides still meet. */
export function isJoined({ from, to }: Break): boolean {
  return distance(from, to) <= touchDistance;
}

/** Whether the two ends have passed each other along the outline's direction of travel, so that cloth lies double. */
export function endsPassed(before: Segment, after: Segment, { from, to }: Break): boolean {
  const travel = add(unitTangentAt(before, 1), unitTangentAt(after, 0));
  return dot(subtract(to, from), travel) < 0;
}
