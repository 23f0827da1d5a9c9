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
 * first. Corners must be in order along the outline, from wherever they begin. Neighbouring parts share their end point
 * exactly.
 */
export function edgeParts(outline: Path, corners: readonly OutlinePlace[]): Outcome<readonly Path[]> {
  if (corners.length < 2) {
    return fail('too-few-corners', 'Mark at least two corners, so that the outline falls into edges.');
  }
  const places: OutlinePlace[] = [];
  for (const corner of corners) {
    const place = settled(outline, corner);
    if (!place) return fail('corner-off-outline', 'A corner is not on the outline any more. Mark the corners again.');
    places.push(place);
  }
  if (!goRoundOnce(places)) {
    return fail('corners-out-of-order', 'Two corners are on the same spot or out of order. Mark the corners again.');
  }
  const { path, starts } = cutAt(outline, places);
  return succeed(
    starts.map((start, i) => {
      const end = starts[(i + 1) % starts.length]!;
      return start < end ? path.slice(start, end) : [...path.slice(start), ...path.slice(0, end)];
    }),
  );
}

/**
 * Whether the places follow each other once round, wherever they begin: a corner marked just before the point at which the
 * outline closes is that point, and so lies first on the outline although it is the last of the corners.
 */
function goRoundOnce(places: readonly OutlinePlace[]): boolean {
  const steps = places.map((from, i) => order(from, places[(i + 1) % places.length]!));
  return steps.every((step) => step !== 0) && steps.filter((step) => step > 0).length === 1;
}

/** The corner at the joint it lies next to, if it lies next to one; null when it is not on the outline. */
function settled(outline: Path, { segment, t }: OutlinePlace): OutlinePlace | null {
  const on = outline[segment];
  if (!on || !(t >= 0 && t <= 1)) return null;
  const [before, after] = splitSegment(on, t);
  if (t === 1 || distance(after.start, on.end) <= cornerSnap) return { segment: (segment + 1) % outline.length, t: 0 };
  return distance(before.start, after.start) <= cornerSnap ? { segment, t: 0 } : { segment, t };
}

/** Negative when `a` comes first from where the outline begins, 0 when both are one place. */
function order(a: OutlinePlace, b: OutlinePlace): number {
  return a.segment - b.segment || a.t - b.t;
}

/** The outline with a joint at every corner, and which of its segments starts at each, in the order of the corners. */
function cutAt(outline: Path, corners: readonly OutlinePlace[]): { path: Path; starts: readonly number[] } {
  const path: Path[number][] = [];
  const starts: number[] = [];
  const along = [...corners.entries()].sort(([, a], [, b]) => order(a, b));
  outline.forEach((segment, i) => {
    let rest = segment;
    let done = 0;
    for (const [index, corner] of along) {
      if (corner.segment !== i) continue;
      if (corner.t > 0) {
        const [head, tail] = splitSegment(rest, (corner.t - done) / (1 - done));
        path.push(head);
        rest = tail;
        done = corner.t;
      }
      starts[index] = path.length;
    }
    path.push(rest);
  });
  return { path, starts };
}

/** One straight line from the first to the last point of an edge. */
export function straightLine(edge: Path): Path {
  return [line(edge[0]!.start, edge.at(-1)!.end)];
}
