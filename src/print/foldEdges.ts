import { distance, dot, norm, quarterTurn, subtract } from '../geometry/point';
import { line, type Path, type Segment } from '../geometry/segment';
import type { Piece } from '../pattern/piece';

/** mm. A straight piece of a cut line this near to the fold line lies on it. */
const onFoldWithin = 0.01;

export interface CutLineParts {
  /** What is cut: the cut line without what lies on the fold, in runs. Closed when there is no fold. */
  readonly runs: readonly Path[];
  readonly closed: boolean;
  /** The whole straight line on the fold, allowances included; null without a fold. */
  readonly fold: Segment | null;
}

/** Takes the part on the fold out of a closed cut line: it is not cut. */
export function splitAtFold(cutLine: Path, piece: Piece): CutLineParts {
  const foldEdge = piece.fold === null ? undefined : piece.edges.find((e) => e.id === piece.fold);
  if (!foldEdge) return { runs: [cutLine], closed: true, fold: null };
  const from = foldEdge.path[0]!.start;
  const along = subtract(foldEdge.path[foldEdge.path.length - 1]!.end, from);
  const across = quarterTurn(along);
  const off = (s: Segment) =>
    Math.max(Math.abs(dot(subtract(s.start, from), across)), Math.abs(dot(subtract(s.end, from), across))) /
    norm(along);
  const lies = cutLine.map((s) => s.kind === 'line' && off(s) < onFoldWithin);
  if (!lies.some(Boolean) || lies.every(Boolean)) return { runs: [cutLine], closed: true, fold: null };

  // Start right after a stretch on the fold, so that no run is broken by where the path happens to begin.
  const start = lies.findIndex((on, i) => on && !lies[(i + 1) % lies.length]!) + 1;
  const runs: Segment[][] = [];
  const folds: Segment[] = [];
  let inRun = false;
  for (let k = 0; k < cutLine.length; k++) {
    const i = (start + k) % cutLine.length;
    if (lies[i]) {
      folds.push(cutLine[i]!);
      inRun = false;
    } else {
      if (!inRun) runs.push([]);
      runs[runs.length - 1]!.push(cutLine[i]!);
      inRun = true;
    }
  }
  return { runs, closed: false, fold: longestStretch(folds) };
}

/** Ends farthest apart of pieces that lie on one line. */
function longestStretch(pieces: readonly Segment[]): Segment {
  const ends = pieces.flatMap((s) => [s.start, s.end]);
  let best = line(ends[0]!, ends[1]!);
  for (const a of ends) {
    for (const b of ends) if (distance(a, b) > distance(best.start, best.end)) best = line(a, b);
  }
  const first = pieces[0]!;
  const same = dot(subtract(best.end, best.start), subtract(first.end, first.start)) >= 0;
  return same ? best : line(best.end, best.start);
}
