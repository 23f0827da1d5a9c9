import { distance, type Point } from '../../geometry/point';
import type { Path, Segment } from '../../geometry/segment';
import { tinySegment } from '../../geometry/tolerance';

export interface TidyPath {
  readonly path: Path;
  /** Segments left out because they were too short to mean anything. */
  readonly dropped: number;
}

/**
 * The same line without its tiny segments (mm); what followed one is drawn from where the last kept one ended, so the
 * line still hangs together, and a closed one still closes. A fine trace keeps its shape: short steps are left out only
 * until they have added up to a tiny segment.
 */
export function tidyPath(path: Path, closed: boolean): TidyPath {
  const kept: Segment[] = [];
  let here = path[0]?.start;
  if (!here) return { path, dropped: 0 };
  for (const segment of path) {
    if (staysNear(segment, here)) continue;
    kept.push(startingAt(segment, here));
    here = segment.end;
  }
  const first = kept[0];
  const last = kept.at(-1);
  if (!first || !last) return { path: [], dropped: path.length };
  const end = closed ? first.start : path.at(-1)!.end;
  if (last.end !== end) kept[kept.length - 1] = endingAt(last, end);
  return { path: kept, dropped: path.length - kept.length };
}

function staysNear(segment: Segment, here: Point): boolean {
  if (distance(segment.end, here) > tinySegment) return false;
  if (segment.kind === 'line') return true;
  return distance(segment.control1, here) <= tinySegment && distance(segment.control2, here) <= tinySegment;
}

/** A segment drawn from another start; its first handle goes along, so that its direction there stays. */
export function startingAt(segment: Segment, start: Point): Segment {
  if (segment.start.x === start.x && segment.start.y === start.y)
    return segment.start === start ? segment : { ...segment, start };
  if (segment.kind === 'line') return { ...segment, start };
  return { ...segment, start, control1: shifted(segment.control1, segment.start, start) };
}

/** A segment drawn to another end; its last handle goes along. */
export function endingAt(segment: Segment, end: Point): Segment {
  if (segment.kind === 'line') return { ...segment, end };
  return { ...segment, end, control2: shifted(segment.control2, segment.end, end) };
}

function shifted(p: Point, from: Point, to: Point): Point {
  return { x: p.x + (to.x - from.x), y: p.y + (to.y - from.y) };
}
