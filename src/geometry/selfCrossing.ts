import { dot, type Point, unit } from './point';
import { type CubicSegment, type Segment, segmentPointAt } from './segment';

/**
 * The point where a cubic crosses itself, or null. Equal points at parameters s and t satisfy, after division by
 * s - t, a linear system in s + t and s^2 + st + t^2, so the answer is closed. Ends that coincide (a closed cubic)
 * are not a crossing.
 */
export function cubicLoop(c: CubicSegment): Point | null {
  const ax = c.end.x - c.start.x + 3 * (c.control1.x - c.control2.x);
  const ay = c.end.y - c.start.y + 3 * (c.control1.y - c.control2.y);
  const bx = 3 * (c.start.x - 2 * c.control1.x + c.control2.x);
  const by = 3 * (c.start.y - 2 * c.control1.y + c.control2.y);
  const cx = 3 * (c.control1.x - c.start.x);
  const cy = 3 * (c.control1.y - c.start.y);
  const determinant = ax * by - ay * bx;
  if (determinant === 0) return null;
  const squares = (bx * cy - by * cx) / determinant;
  const sum = (cx * ay - cy * ax) / determinant;
  const product = sum * sum - squares;
  const spread = sum * sum - 4 * product;
  if (!(spread > 0)) return null;
  const half = Math.sqrt(spread) / 2;
  const s = sum / 2 - half;
  const t = sum / 2 + half;
  if (s < 0 || t > 1 || t - s > 1 - 1e-9) return null;
  return segmentPointAt(c, s);
}

/**
 * Whether two segments, one following the other, advance all the way along one direction: then they cannot meet
 * except at their joint. False only means "not shown this way".
 */
export function advanceTogether(first: Segment, second: Segment): boolean {
  const a = unit({ x: first.end.x - first.start.x, y: first.end.y - first.start.y });
  const b = unit({ x: second.end.x - second.start.x, y: second.end.y - second.start.y });
  const direction = { x: a.x + b.x, y: a.y + b.y };
  return advances(first, direction) && advances(second, direction);
}

function advances(segment: Segment, direction: Point): boolean {
  const { start, end } = segment;
  if (segment.kind === 'line') return dot(end, direction) > dot(start, direction);
  const heights = [start, segment.control1, segment.control2, end].map((p) => dot(p, direction));
  return (
    heights[0]! <= heights[1]! && heights[1]! <= heights[2]! && heights[2]! <= heights[3]! && heights[0]! < heights[3]!
  );
}
