import { type Path, type Segment, segmentPointAt } from './segment';

/** An upright rectangle, mm. The bounds of nothing have minX > maxX. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export const noBounds: Bounds = {
  minX: Number.POSITIVE_INFINITY,
  minY: Number.POSITIVE_INFINITY,
  maxX: Number.NEGATIVE_INFINITY,
  maxY: Number.NEGATIVE_INFINITY,
};

/** The smallest upright rectangle round a segment: its ends and, for a cubic, where a coordinate turns. */
export function segmentBounds(segment: Segment): Bounds {
  let minX = Math.min(segment.start.x, segment.end.x);
  let maxX = Math.max(segment.start.x, segment.end.x);
  let minY = Math.min(segment.start.y, segment.end.y);
  let maxY = Math.max(segment.start.y, segment.end.y);
  if (segment.kind === 'cubic') {
    const { start, control1, control2, end } = segment;
    // Handles inside the rectangle of the ends cannot push the curve out of it.
    if (Math.min(control1.x, control2.x) < minX || Math.max(control1.x, control2.x) > maxX) {
      for (const t of turningParameters(start.x, control1.x, control2.x, end.x)) {
        const { x } = segmentPointAt(segment, t);
        minX = Math.min(minX, x);
        maxX = Math.max(maxX, x);
      }
    }
    if (Math.min(control1.y, control2.y) < minY || Math.max(control1.y, control2.y) > maxY) {
      for (const t of turningParameters(start.y, control1.y, control2.y, end.y)) {
        const { y } = segmentPointAt(segment, t);
        minY = Math.min(minY, y);
        maxY = Math.max(maxY, y);
      }
    }
  }
  return { minX, minY, maxX, maxY };
}

/** The smallest upright rectangle round a path. */
export function pathBounds(path: Path): Bounds {
  let all = noBounds;
  for (const segment of path) all = unionBounds(all, segmentBounds(segment));
  return all;
}

export function unionBounds(a: Bounds, b: Bounds): Bounds {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

/** Whether two rectangles come within `margin` mm of each other. */
export function boundsMeet(a: Bounds, b: Bounds, margin: number): boolean {
  return (
    a.minX <= b.maxX + margin && b.minX <= a.maxX + margin && a.minY <= b.maxY + margin && b.minY <= a.maxY + margin
  );
}

/** Parameters inside (0, 1) where one coordinate of a cubic turns back. */
export function turningParameters(p0: number, p1: number, p2: number, p3: number): number[] {
  const d0 = p1 - p0;
  const d1 = p2 - p1;
  const d2 = p3 - p2;
  return quadraticRoots(d0 - 2 * d1 + d2, 2 * (d1 - d0), d0).filter((t) => t > 0 && t < 1);
}

/** Real roots of a t^2 + b t + c, smaller first, without cancellation (Press et al., Numerical Recipes, 5.6). */
export function quadraticRoots(a: number, b: number, c: number): number[] {
  if (a === 0) return b === 0 ? [] : [-c / b];
  const discriminant = b * b - 4 * a * c;
  if (discriminant < 0) return [];
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant)) / 2;
  if (q === 0) return [0];
  const first = q / a;
  const second = c / q;
  return first < second ? [first, second] : first > second ? [second, first] : [first];
}
