import { distanceAt } from './path';
import type { Point } from './point';
import { bernsteinRoots } from './polynomial';
import {
  type CubicSegment,
  type Path,
  type Segment,
  segmentDerivativeAt,
  segmentPointAt,
  segmentSecondDerivativeAt,
} from './segment';

/** The place of a segment nearest to a point, with the distance in mm. */
export interface NearestPlace {
  readonly t: number;
  readonly point: Point;
  readonly distance: number;
}

/** The place of a path nearest to a point; `along` is its distance from the path's start, mm. */
export interface NearestOnPath extends NearestPlace {
  readonly segment: number;
  readonly along: number;
}

/**
 * The nearest place on a segment. For a cubic every foot of a perpendicular is a root of a polynomial of fifth
 * degree; all its roots and both ends are compared, so the answer is the nearest of all, not a near one.
 */
export function nearestOnSegment(segment: Segment, p: Point): NearestPlace {
  let best = placeAt(segment, 0, p);
  const end = placeAt(segment, 1, p);
  if (end.distance < best.distance) best = end;
  for (const root of segment.kind === 'line' ? lineFoot(segment, p) : cubicFeet(segment, p)) {
    const place = placeAt(segment, segment.kind === 'line' ? root : polishFoot(segment, root, p), p);
    if (place.distance < best.distance) best = place;
  }
  return best;
}

/** The nearest place on a path. Throws a RangeError for the empty path. */
export function nearestOnPath(path: Path, p: Point): NearestOnPath {
  if (path.length === 0) throw new RangeError('An empty path has no nearest place.');
  let best: NearestPlace = { t: 0, point: p, distance: Number.POSITIVE_INFINITY };
  let at = 0;
  path.forEach((segment, index) => {
    if (hullDistance(segment, p) >= best.distance) return;
    const place = nearestOnSegment(segment, p);
    if (place.distance < best.distance) {
      best = place;
      at = index;
    }
  });
  return { ...best, segment: at, along: distanceAt(path, at, best.t) };
}

function placeAt(segment: Segment, t: number, p: Point): NearestPlace {
  const at = segmentPointAt(segment, t);
  return { t, point: at, distance: Math.hypot(at.x - p.x, at.y - p.y) };
}

function lineFoot(segment: Segment, p: Point): number[] {
  const dx = segment.end.x - segment.start.x;
  const dy = segment.end.y - segment.start.y;
  const t = ((p.x - segment.start.x) * dx + (p.y - segment.start.y) * dy) / (dx * dx + dy * dy);
  return t > 0 && t < 1 ? [t] : [];
}

/** Roots of (B - p) . B' in Bernstein form: products of the cubic's and its derivative's control values. */
function cubicFeet(c: CubicSegment, p: Point): number[] {
  const x0 = c.start.x - p.x;
  const y0 = c.start.y - p.y;
  const x1 = c.control1.x - p.x;
  const y1 = c.control1.y - p.y;
  const x2 = c.control2.x - p.x;
  const y2 = c.control2.y - p.y;
  const x3 = c.end.x - p.x;
  const y3 = c.end.y - p.y;
  const ux = x1 - x0;
  const uy = y1 - y0;
  const vx = x2 - x1;
  const vy = y2 - y1;
  const wx = x3 - x2;
  const wy = y3 - y2;
  // Degree 3 times degree 2: value k is sum over i + j = k of C(3,i) C(2,j) / C(5,k) (p_i . d_j).
  return bernsteinRoots([
    x0 * ux + y0 * uy,
    (2 * (x0 * vx + y0 * vy) + 3 * (x1 * ux + y1 * uy)) / 5,
    (x0 * wx + y0 * wy + 6 * (x1 * vx + y1 * vy) + 3 * (x2 * ux + y2 * uy)) / 10,
    (3 * (x1 * wx + y1 * wy) + 6 * (x2 * vx + y2 * vy) + x3 * ux + y3 * uy) / 10,
    (3 * (x2 * wx + y2 * wy) + 2 * (x3 * vx + y3 * vy)) / 5,
    x3 * wx + y3 * wy,
  ]);
}

/** One Newton step on the curve itself, which removes the rounding of the polynomial's coefficients. */
function polishFoot(segment: Segment, t: number, p: Point): number {
  const at = segmentPointAt(segment, t);
  const d = segmentDerivativeAt(segment, t);
  const e = segmentSecondDerivativeAt(segment, t);
  const slope = d.x * d.x + d.y * d.y + (at.x - p.x) * e.x + (at.y - p.y) * e.y;
  const next = t - ((at.x - p.x) * d.x + (at.y - p.y) * d.y) / slope;
  return slope > 0 && Math.abs(next - t) < 1e-6 && next >= 0 && next <= 1 ? next : t;
}

/** Distance from p to the upright rectangle round the segment's control points: never more than to the segment. */
function hullDistance(segment: Segment, p: Point): number {
  let minX = Math.min(segment.start.x, segment.end.x);
  let maxX = Math.max(segment.start.x, segment.end.x);
  let minY = Math.min(segment.start.y, segment.end.y);
  let maxY = Math.max(segment.start.y, segment.end.y);
  if (segment.kind === 'cubic') {
    minX = Math.min(minX, segment.control1.x, segment.control2.x);
    maxX = Math.max(maxX, segment.control1.x, segment.control2.x);
    minY = Math.min(minY, segment.control1.y, segment.control2.y);
    maxY = Math.max(maxY, segment.control1.y, segment.control2.y);
  }
  const dx = Math.max(minX - p.x, 0, p.x - maxX);
  const dy = Math.max(minY - p.y, 0, p.y - maxY);
  return Math.hypot(dx, dy);
}
