import { Bezier } from 'bezier-js';
import type { Bounds } from '../../src/geometry/bounds';
import type { Point } from '../../src/geometry/point';
import { type CubicSegment, cubic } from '../../src/geometry/segment';

/**
 * A second opinion from bezier-js, in what it is reliable for: evaluation, split, bounds, ordinary length. (Its nearest
 * point, offset and curve-curve intersection are not.)
 */
function bezierOf(c: CubicSegment): Bezier {
  return new Bezier([c.start, c.control1, c.control2, c.end].map(({ x, y }) => ({ x, y })));
}

export function bezierPointAt(c: CubicSegment, t: number): Point {
  const { x, y } = bezierOf(c).get(t);
  return { x, y };
}

export function bezierDerivativeAt(c: CubicSegment, t: number): Point {
  const { x, y } = bezierOf(c).derivative(t);
  return { x, y };
}

export function bezierLength(c: CubicSegment): number {
  return bezierOf(c).length();
}

export function bezierBounds(c: CubicSegment): Bounds {
  const { x, y } = bezierOf(c).bbox();
  return { minX: x.min, minY: y.min, maxX: x.max, maxY: y.max };
}

export function bezierPart(c: CubicSegment, t0: number, t1: number): CubicSegment {
  const [a, b, d, e] = bezierOf(c).split(t0, t1).points;
  return cubic(a!, b!, d!, e!);
}
