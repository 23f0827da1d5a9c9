import type { Chain } from './chain';
import { tukey } from './robust';

/** A stretch of a closed chain that runs straight: a line near it, and how far along that line it goes. */
export interface StraightRun {
  /** Indices of its first and last places, round the end. */
  readonly from: number;
  readonly to: number;
  /** A place on the line, and its unit direction of travel. */
  readonly x: number;
  readonly y: number;
  readonly tx: number;
  readonly ty: number;
  /** Distance along the line, from that place, of its end; it begins at 0. */
  readonly length: number;
}

/** mm. A place measured on the wrong side of a broad ruled line is no farther from the edge than this. */
const wander = 1.3;

/** mm. Shorter stretches do not tell a direction. */
const shortest = 30;

/** mm. Scatter of places about an edge where nothing lies beside it; what strays by more counts less. */
const usualScatter = 0.15;

/** The straight stretches of a closed chain (mm): sides of the polygon that stays within `wander` of it, the long ones. */
export function straightRuns({ xs, ys }: Chain): StraightRun[] {
  const n = xs.length;
  let far = 0;
  for (let i = 1; i < n; i++) {
    if (Math.hypot(xs[i]! - xs[0]!, ys[i]! - ys[0]!) > Math.hypot(xs[far]! - xs[0]!, ys[far]! - ys[0]!)) far = i;
  }
  // Both ends of the longest way across are corners of any polygon round it, or nearly.
  let start = 0;
  for (let i = 1; i < n; i++) {
    if (Math.hypot(xs[i]! - xs[far]!, ys[i]! - ys[far]!) > Math.hypot(xs[start]! - xs[far]!, ys[start]! - ys[far]!)) {
      start = i;
    }
  }
  const half = (far - start + n) % n;
  const corners = [0, ...between(xs, ys, start, 0, half), half, ...between(xs, ys, start, half, n)];
  return corners.flatMap((from, c) => {
    const to = corners[c + 1] ?? n;
    const run = lineAlong(xs, ys, (start + from) % n, to - from);
    return run ? [run] : [];
  });
}

/** Corners of the polygon strictly between two places, counted from `start` on (Douglas and Peucker 1973, from memory). */
function between(xs: Float64Array, ys: Float64Array, start: number, from: number, to: number): number[] {
  const n = xs.length;
  const x = (k: number) => xs[(start + k) % n]!;
  const y = (k: number) => ys[(start + k) % n]!;
  const dx = x(to) - x(from);
  const dy = y(to) - y(from);
  const length = Math.hypot(dx, dy) || 1;
  let worst = wander;
  let at = -1;
  for (let k = from + 1; k < to; k++) {
    const off = Math.abs((x(k) - x(from)) * dy - (y(k) - y(from)) * dx) / length;
    if (off > worst) {
      worst = off;
      at = k;
    }
  }
  return at < 0 ? [] : [...between(xs, ys, start, from, at), at, ...between(xs, ys, start, at, to)];
}

/** The line through `steps` steps from a place on, strays weighed down; null where they are too short for one. */
function lineAlong(xs: Float64Array, ys: Float64Array, from: number, steps: number): StraightRun | null {
  const n = xs.length;
  const to = (from + steps) % n;
  const length = Math.hypot(xs[to]! - xs[from]!, ys[to]! - ys[from]!);
  if (length < shortest) return null;
  const tx = (xs[to]! - xs[from]!) / length;
  const ty = (ys[to]! - ys[from]!) / length;
  let c0 = 0;
  let c1 = 0;
  for (let round = 0; round < 8; round++) {
    const s = [0, 0, 0, 0, 0];
    for (let k = 0; k <= steps; k++) {
      const dx = xs[(from + k) % n]! - xs[from]!;
      const dy = ys[(from + k) % n]! - ys[from]!;
      const u = dx * tx + dy * ty;
      const v = dy * tx - dx * ty;
      const w = round === 0 ? 1 : tukey((v - c0 - c1 * u) / usualScatter) + 1e-3;
      s[0]! += w;
      s[1]! += w * u;
      s[2]! += w * u * u;
      s[3]! += w * v;
      s[4]! += w * v * u;
    }
    const determinant = s[0]! * s[2]! - s[1]! ** 2;
    if (!(determinant > 0)) return null;
    c0 = (s[2]! * s[3]! - s[1]! * s[4]!) / determinant;
    c1 = (s[0]! * s[4]! - s[1]! * s[3]!) / determinant;
  }
  const slope = Math.hypot(1, c1);
  return {
    from,
    to,
    x: xs[from]! - c0 * ty,
    y: ys[from]! + c0 * tx,
    tx: (tx - c1 * ty) / slope,
    ty: (ty + c1 * tx) / slope,
    length,
  };
}
