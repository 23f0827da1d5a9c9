import { distance, dot, type Point, quarterTurn, scale, subtract, unit } from './point';
import { cubic, line, type Path, type Segment } from './segment';

/** A straight line to mirror at: a point on it and its unit direction, mm. */
export interface MirrorLine {
  readonly at: Point;
  readonly along: Point;
}

/** The line through two points; null when they are one point. */
export function lineThrough(from: Point, to: Point): MirrorLine | null {
  return distance(from, to) > 0 ? { at: from, along: unit(subtract(to, from)) } : null;
}

/** Signed distance of a point from the line, mm: positive on the side that `quarterTurn(along)` points to. */
export function sideOf(mirror: MirrorLine, p: Point): number {
  return dot(quarterTurn(mirror.along), subtract(p, mirror.at));
}

/** A point on the other side of the line. Points on the line stay where they are, to rounding. */
export function mirrorPoint(mirror: MirrorLine, p: Point): Point {
  const back = scale(quarterTurn(mirror.along), -2 * sideOf(mirror, p));
  return { x: p.x + back.x, y: p.y + back.y };
}

export function mirrorSegment(mirror: MirrorLine, segment: Segment): Segment {
  const over = (p: Point) => mirrorPoint(mirror, p);
  return segment.kind === 'line'
    ? line(over(segment.start), over(segment.end))
    : cubic(over(segment.start), over(segment.control1), over(segment.control2), over(segment.end));
}

/** The path on the other side of the line. An outline then runs the other way round. */
export function mirrorPath(mirror: MirrorLine, path: Path): Path {
  return path.map((segment) => mirrorSegment(mirror, segment));
}
