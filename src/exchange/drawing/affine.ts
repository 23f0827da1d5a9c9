import type { Point } from '../../geometry/point';
import { cubic, line, type Path, type Segment } from '../../geometry/segment';

/** x' = a x + c y + e, y' = b x + d y + f, in the order the SVG matrix() writes its six numbers. */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const identity: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

export function affine(a: number, b: number, c: number, d: number, e: number, f: number): Affine {
  return { a, b, c, d, e, f };
}

/** The map that does `inner` first, then `outer`. */
export function chain(outer: Affine, inner: Affine): Affine {
  return {
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  };
}

export function mapPoint(map: Affine, p: Point): Point {
  return { x: map.a * p.x + map.c * p.y + map.e, y: map.b * p.x + map.d * p.y + map.f };
}

function mapSegment(map: Affine, segment: Segment): Segment {
  return segment.kind === 'line'
    ? line(mapPoint(map, segment.start), mapPoint(map, segment.end))
    : cubic(
        mapPoint(map, segment.start),
        mapPoint(map, segment.control1),
        mapPoint(map, segment.control2),
        mapPoint(map, segment.end),
      );
}

/** Exact: a cubic's image under an affine map is the cubic of the mapped points. */
export function mapPath(map: Affine, path: Path): Path {
  return map === identity ? path : path.map((segment) => mapSegment(map, segment));
}

/** Length of the mapped unit square's side, sqrt |det|; the mean scale of the map. */
export function meanScale(map: Affine): number {
  return Math.sqrt(Math.abs(map.a * map.d - map.b * map.c));
}
