import { turningParameters } from './bounds';
import { nearestOnSegment } from './nearest';
import { cross, type Point, subtract } from './point';
import { bernsteinRoots } from './polynomial';
import { type Path, type Segment, segmentPointAt } from './segment';
import { touchDistance } from './tolerance';

/**
 * Area enclosed by a closed path, mm2: positive for our orientation (counter-clockwise as seen on screen, y down),
 * negative the other way. Exact for lines and cubics (Green's theorem; no sampling).
 */
export function enclosedArea(closedPath: Path): number {
  const first = closedPath[0];
  if (first === undefined) return 0;
  // Relative to a point of the path, so that a piece far from the origin loses no digits.
  const { x: ox, y: oy } = first.start;
  let twice = 0;
  for (const segment of closedPath) {
    const x0 = segment.start.x - ox;
    const y0 = segment.start.y - oy;
    const x3 = segment.end.x - ox;
    const y3 = segment.end.y - oy;
    if (segment.kind === 'line') {
      twice += x0 * y3 - x3 * y0;
    } else {
      const x1 = segment.control1.x - ox;
      const y1 = segment.control1.y - oy;
      const x2 = segment.control2.x - ox;
      const y2 = segment.control2.y - oy;
      twice +=
        (6 * (x0 * y1 - x1 * y0 + x2 * y3 - x3 * y2) +
          3 * (x0 * y2 - x2 * y0 + x1 * y2 - x2 * y1 + x1 * y3 - x3 * y1) +
          (x0 * y3 - x3 * y0)) /
        10;
    }
  }
  // x towards y is clockwise on screen, which is our negative.
  return -twice / 2;
}

/**
 * Whether a point lies inside a closed path (winding number not 0) or on it, within 1e-9 mm.
 * The path may be given either way round.
 */
export function containsPoint(closedPath: Path, p: Point): boolean {
  let winding = 0;
  for (const segment of closedPath) {
    if (passesThrough(segment, p)) return true;
    winding += windingOf(segment, p);
  }
  return winding !== 0;
}

function passesThrough(segment: Segment, p: Point): boolean {
  const { start, end } = segment;
  const c1 = segment.kind === 'cubic' ? segment.control1 : start;
  const c2 = segment.kind === 'cubic' ? segment.control2 : end;
  if (p.x < Math.min(start.x, end.x, c1.x, c2.x) - touchDistance) return false;
  if (p.x > Math.max(start.x, end.x, c1.x, c2.x) + touchDistance) return false;
  if (p.y < Math.min(start.y, end.y, c1.y, c2.y) - touchDistance) return false;
  if (p.y > Math.max(start.y, end.y, c1.y, c2.y) + touchDistance) return false;
  return nearestOnSegment(segment, p).distance <= touchDistance;
}

/** Signed crossings of the ray from p towards +x. Heights count as "at or above p" or "below", so a joint counts once. */
function windingOf(segment: Segment, p: Point): number {
  const { start, end } = segment;
  if (segment.kind === 'line') {
    if (start.y <= p.y === end.y <= p.y) return 0;
    const side = cross(subtract(end, start), subtract(p, start));
    return end.y > start.y ? (side > 0 ? 1 : 0) : side < 0 ? -1 : 0;
  }
  const { control1, control2 } = segment;
  const lowY = Math.min(start.y, control1.y, control2.y, end.y);
  const highY = Math.max(start.y, control1.y, control2.y, end.y);
  if (p.y < lowY || p.y > highY) return 0;
  if (p.x > Math.max(start.x, control1.x, control2.x, end.x)) return 0;
  const allRight = p.x < Math.min(start.x, control1.x, control2.x, end.x);
  const step = (from: number, to: number) => (from <= p.y === to <= p.y ? 0 : to > from ? 1 : -1);
  if (allRight) return step(start.y, end.y);
  // Monotone in y between turning points: each change of side is one crossing, counted if it lies to the right of p.
  const cuts = [0, ...turningParameters(start.y, control1.y, control2.y, end.y), 1];
  const roots = bernsteinRoots([start.y - p.y, control1.y - p.y, control2.y - p.y, end.y - p.y]);
  let winding = 0;
  for (let i = 0; i + 1 < cuts.length; i++) {
    const from = segmentPointAt(segment, cuts[i]!);
    const to = segmentPointAt(segment, cuts[i + 1]!);
    const sign = step(from.y, to.y);
    if (sign === 0) continue;
    const root = roots.find((t) => t >= cuts[i]! && t <= cuts[i + 1]!);
    const crossing =
      root === undefined ? (Math.abs(from.y - p.y) < Math.abs(to.y - p.y) ? from : to) : segmentPointAt(segment, root);
    if (crossing.x > p.x) winding += sign;
  }
  return winding;
}
