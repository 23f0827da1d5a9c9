import { fail, type Outcome, succeed } from '../geometry/outcome';
import { distance } from '../geometry/point';
import { line, type Path, splitSegment } from '../geometry/segment';
import { cornerSnap } from '../geometry/tolerance';

/** A place on a closed outline: index of the segment and parameter on it, 0 to 1. */
export interface OutlinePlace {
  readonly segment: number;
  readonly t: number;
}

/**
 * The parts of a closed outline between its corners: part i runs from corner i to the next one, the last round to the
 * first. Corners must be in order along the outline. Neighbouring parts share their end point exactly.
 */
export function edgeParts(outline: Path, corners: readonly OutlinePlace[]): Outcome<readonly Path[]> {
  if (corners.length < 2) {
    return fail('too-few-corners', 'Mark at least two corners, so that the outline falls into edges.');
  }
  const places = corners.map((corner) => settled(outline, corner));
  const parts: Path[] = [];
  for (const [i, from] of places.entries()) {
    if (!from) return fail('corner-off-outline', 'A corner is not on the outline any more. Mark the corners again.');
    const to = places[(i + 1) % places.length];
    if (i + 1 < places.length && to && !isBefore(from, to)) {
      return fail('corners-out-of-order', 'Two corners are on the same spot or out of order. Mark the corners again.');
    }
  }
  const cutOutline = cutAt(outline, places as OutlinePlace[]);
  for (const [i, start] of cutOutline.starts.entries()) {
    const end = cutOutline.starts[(i + 1) % cutOutline.starts.length]!;
    const { path } = cutOutline;
    parts.push(start < end ? path.slice(start, end) : [...path.slice(start), ...path.slice(0, end)]);
  }
  return succeed(parts);
}

/** The corner at the joint it lies next to, if it lies next to one; null when it is not on the outline. */
function settled(outline: Path, { segment, t }: OutlinePlace): OutlinePlace | null {
  const on = outline[segment];
  if (!on || !(t >= 0 && t <= 1)) return null;
  const [before, after] = splitSegment(on, t);
  if (t === 1 || distance(after.start, on.end) <= cornerSnap) return { segment: (segment + 1) % outline.length, t: 0 };
  return distance(before.start, after.start) <= cornerSnap ? { segment, t: 0 } : { segment, t };
}

function isBefore(a: OutlinePlace, b: OutlinePlace): boolean {
  return a.segment < b.segment || (a.segment === b.segment && a.t < b.t);
}

/** The outline with a joint at every corner, and which of its segments starts at each. */
function cutAt(outline: Path, corners: readonly OutlinePlace[]): { path: Path; starts: readonly number[] } {
  const path: Path[number][] = [];
  const starts: number[] = [];
  outline.forEach((segment, i) => {
    let rest = segment;
    let done = 0;
    for (const corner of corners) {
      if (corner.segment !== i) continue;
      if (corner.t > 0) {
        const [head, tail] = splitSegment(rest, (corner.t - done) / (1 - done));
        path.push(head);
        rest = tail;
        done = corner.t;
      }
      starts.push(path.length);
    }
    path.push(rest);
  });
  return { path, starts };
}

/** One straight line from the first to the last point of an edge. */
export function straightLine(edge: Path): Path {
  return [line(edge[0]!.start, edge.at(-1)!.end)];
}
