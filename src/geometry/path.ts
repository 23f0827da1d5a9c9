import { segmentLength, segmentLengthBetween, segmentParameterAtLength } from './arcLength';
import type { Point } from './point';
import { type Path, type Segment, segmentPointAt, splitSegment } from './segment';
import { unitTangentAt } from './tangent';
import { lengthAccuracy, samePoint } from './tolerance';

/** A place on a path: the segment it lies on, the parameter there, the point and the unit direction of travel. */
export interface PathPlace {
  readonly point: Point;
  readonly tangent: Point;
  readonly segment: number;
  readonly t: number;
}

/** Length of a path, mm; `accuracy` mm holds for each segment. The empty path has length 0. */
export function pathLength(path: Path, accuracy = lengthAccuracy): number {
  let sum = 0;
  for (const segment of path) sum += segmentLength(segment, accuracy);
  return sum;
}

/** First point of a path. Throws a RangeError for the empty path. */
export function pathStart(path: Path): Point {
  return segmentOf(path, 0).start;
}

/** Last point of a path. Throws a RangeError for the empty path. */
export function pathEnd(path: Path): Point {
  return segmentOf(path, path.length - 1).end;
}

/** Unit direction of travel at the start, looking past segments without length. */
export function startTangent(path: Path): Point {
  for (const segment of path) {
    const tangent = unitTangentAt(segment, 0);
    if (tangent.x !== 0 || tangent.y !== 0) return tangent;
  }
  return { x: 0, y: 0 };
}

/** Unit direction of travel at the end, looking past segments without length. */
export function endTangent(path: Path): Point {
  for (let i = path.length - 1; i >= 0; i--) {
    const tangent = unitTangentAt(path[i]!, 1);
    if (tangent.x !== 0 || tangent.y !== 0) return tangent;
  }
  return { x: 0, y: 0 };
}

/**
 * The place `distance` mm along the path; before the start it is the start, beyond the end the end.
 * A distance within 1e-7 mm of a joint is the joint, given as the start of the segment that leaves it.
 */
export function pathPointAt(path: Path, distance: number): PathPlace {
  const { segment, t } = locate(path, distance);
  const on = segmentOf(path, segment);
  return { point: segmentPointAt(on, t), tangent: unitTangentAt(on, t), segment, t };
}

/** Distance along the path, mm, of parameter t on segment `segmentIndex`. */
export function distanceAt(path: Path, segmentIndex: number, t: number): number {
  let sum = 0;
  for (let i = 0; i < segmentIndex; i++) sum += segmentLength(segmentOf(path, i));
  return sum + segmentLengthBetween(segmentOf(path, segmentIndex), 0, t);
}

/**
 * The parts before and after `distance` mm. The curve itself is not refitted, and both parts share the split point
 * exactly. At or beyond an end one part is the empty path; within 1e-7 mm of a joint no sliver is made.
 */
export function splitPathAt(path: Path, distance: number): readonly [Path, Path] {
  if (path.length === 0) return [[], []];
  const { segment, t } = locate(path, distance);
  if (t === 0) return [path.slice(0, segment), path.slice(segment)];
  if (t === 1) return [path.slice(0, segment + 1), path.slice(segment + 1)];
  const [head, tail] = splitSegment(segmentOf(path, segment), t);
  return [
    [...path.slice(0, segment), head],
    [tail, ...path.slice(segment + 1)],
  ];
}

/** The part of the path from d0 to d1 mm along it (d0 <= d1), the curve unchanged. */
export function subPath(path: Path, d0: number, d1: number): Path {
  const [head] = splitPathAt(path, d1);
  return splitPathAt(head, d0)[1];
}

function locate(path: Path, distance: number): { readonly segment: number; readonly t: number } {
  if (path.length === 0) throw new RangeError('An empty path has no places on it.');
  let left = distance;
  if (left <= samePoint) return { segment: 0, t: 0 };
  const last = path.length - 1;
  for (let i = 0; i <= last; i++) {
    const length = segmentLength(path[i]!);
    if (left < length - samePoint) {
      return { segment: i, t: left <= samePoint ? 0 : segmentParameterAtLength(path[i]!, left) };
    }
    if (i < last && left <= length + samePoint) return { segment: i + 1, t: 0 };
    left -= length;
  }
  return { segment: last, t: 1 };
}

function segmentOf(path: Path, index: number): Segment {
  const segment = path[index];
  if (segment === undefined) throw new RangeError(`The path has no segment ${index}.`);
  return segment;
}
