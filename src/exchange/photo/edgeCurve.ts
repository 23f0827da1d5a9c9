import type { Point } from '../../geometry/point';

/**
 * The course of a sheet's edge over the picture: for every row (or column) that it crosses, where. Edges nearer to upright
 * than to level run along y and are placed in x, others the other way, so that a profile across the edge is a plain row
 * or column of dots and nothing has to be interpolated.
 */
export interface EdgeCurve {
  /** True when the curve runs along x and `across` is y. */
  readonly alongX: boolean;
  /** Running coordinate of the two ends, dots, in the order of the sheet's corners. */
  readonly start: number;
  readonly end: number;
  /** The other coordinate at evenly spaced places from start to end. */
  readonly across: Float64Array;
}

const pieces = 32;

/** The curve through places given by their share t of the way, 0 to 1. */
export function curveThrough(alongX: boolean, start: number, end: number, across: (t: number) => number): EdgeCurve {
  return { alongX, start, end, across: Float64Array.from({ length: pieces + 1 }, (_, i) => across(i / pieces)) };
}

/** The curve of a line seen through a lens; `seen` takes a share of the way to a place on the picture. */
export function curveSeen(seen: (t: number) => Point): EdgeCurve {
  const a = seen(0);
  const b = seen(1);
  const alongX = Math.abs(b.x - a.x) >= Math.abs(b.y - a.y);
  const start = alongX ? a.x : a.y;
  const end = alongX ? b.x : b.y;
  const places = Array.from({ length: 2 * pieces + 1 }, (_, i) => seen(i / (2 * pieces)));
  // Equal shares of the true line are not equal steps of the running coordinate; read the places off between.
  let k = 0;
  return curveThrough(alongX, start, end, (t) => {
    const s = start + (end - start) * t;
    const run = (p: Point): number => ((alongX ? p.x : p.y) - s) * Math.sign(end - start);
    while (k < places.length - 2 && run(places[k + 1]!) < 0) k++;
    const [p, q] = [places[k]!, places[k + 1]!];
    const share = run(p) / (run(p) - run(q) || 1);
    return alongX ? p.y + (q.y - p.y) * share : p.x + (q.x - p.x) * share;
  });
}

/** The other coordinate at a running coordinate between the ends. */
export function acrossAt(curve: EdgeCurve, s: number): number {
  const u = ((s - curve.start) / (curve.end - curve.start)) * pieces;
  const i = Math.max(0, Math.min(pieces - 1, Math.floor(u)));
  return curve.across[i]! + (curve.across[i + 1]! - curve.across[i]!) * (u - i);
}

/** Cosine of the angle between the direction of the profile and square to the edge: dots across per dot of profile. */
export function squareness(curve: EdgeCurve): number {
  const run = curve.end - curve.start;
  return Math.abs(run) / Math.hypot(run, curve.across[pieces]! - curve.across[0]!);
}
