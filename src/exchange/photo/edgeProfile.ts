import { acrossAt, type EdgeCurve, squareness } from './edgeCurve';
import type { Picture } from './picture';

/** Sub-dot places of an edge, one for each row or column that it crosses. */
export interface EdgePoints {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** 0 to 1: how clear the step is there against the clearest. */
  readonly weight: Float64Array;
  readonly count: number;
}

/** How the camera turned light into bytes and how far it smeared an edge. */
export interface EdgeLook {
  /** Dots: standard deviation of the blur, as an edge shows it. */
  readonly blur: number;
  /** Light in proportion to each coded byte. */
  readonly light: Float32Array;
}

/** Stations on one edge, at most; neighbours share most of what disturbs them. */
const mostStations = 1600;

/** Table of the Gaussian integral from -4 to 4. */
const steps = 1024;
const density = Float64Array.from({ length: steps + 1 }, (_, i) => {
  const z = (8 * i) / steps - 4;
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
});
const integral = new Float64Array(steps + 1);
for (let i = 1; i <= steps; i++) integral[i] = integral[i - 1]! + ((density[i - 1]! + density[i]!) / 2) * (8 / steps);

export function below(z: number): number {
  if (z <= -4) return 0;
  if (z >= 4) return 1;
  const u = (z + 4) * (steps / 8);
  const i = u | 0;
  return integral[i]! + (integral[i + 1]! - integral[i]!) * (u - i);
}

/**
 * The places of an edge along a curve that is good to about a dot. Each row (or column) of dots across the edge is fitted
 * by a step smeared by the known blur with a level of its own on either side, so that shading does not pull it.
 *
 * `contrast` is the light of the sheet less that of the table, red, green and blue: the profile is taken along it, so an
 * edge that shows in colour only is as good as one in brightness.
 */
export function edgePoints(
  picture: Picture,
  curve: EdgeCurve,
  look: EdgeLook,
  contrast: readonly number[],
): EdgePoints {
  const { data, width, height } = picture;
  const { alongX } = curve;
  const runStride = alongX ? 4 : 4 * width;
  const acrossStride = alongX ? 4 * width : 4;
  const runSize = alongX ? width : height;
  const acrossSize = alongX ? height : width;
  const square = squareness(curve);
  const spread = look.blur / square;
  const half = Math.ceil(2.2 * spread + 1);
  const length = 2 * half + 1;
  const [low, high] = [Math.min(curve.start, curve.end), Math.max(curve.start, curve.end)];
  const spare = 0.015 * (high - low) + 3 * look.blur + 3;
  const first = Math.ceil(low + spare - 0.5);
  const last = Math.floor(high - spare - 0.5);
  const stride = Math.max(1, Math.ceil((last - first + 1) / mostStations));
  const room = Math.max(0, Math.ceil((last - first + 1) / stride));
  const x = new Float64Array(room);
  const y = new Float64Array(room);
  const weight = new Float64Array(room);
  let count = 0;
  const profile = new Float64Array(length);
  const total = contrast[0]! ** 2 + contrast[1]! ** 2 + contrast[2]! ** 2;
  const [wr, wg, wb] = [contrast[0]! / total, contrast[1]! / total, contrast[2]! / total];
  const fit = new StepFit(spread);
  for (let run = first; run <= last; run += stride) {
    if (run < 0 || run >= runSize) continue;
    const guess = acrossAt(curve, run + 0.5);
    const from = Math.round(guess - 0.5) - half;
    if (from < 0 || from + length > acrossSize) continue;
    let at = run * runStride + from * acrossStride;
    for (let j = 0; j < length; j++, at += acrossStride) {
      profile[j] = wr * look.light[data[at]!]! + wg * look.light[data[at + 1]!]! + wb * look.light[data[at + 2]!]!;
    }
    if (!fit.run(profile, length, guess - from - 0.5)) continue;
    const place = fit.place + from + 0.5;
    x[count] = alongX ? run + 0.5 : place;
    y[count] = alongX ? place : run + 0.5;
    weight[count] = fit.clarity;
    count++;
  }
  return { x, y, weight, count };
}

/** Fits level + step * below((j - place) / spread) to a profile: three unknowns, Gauss and Newton's method. */
export class StepFit {
  place = 0;
  clarity = 0;
  private readonly spread: number;
  private readonly a = new Float64Array(9);
  private readonly b = new Float64Array(3);

  constructor(spread: number) {
    this.spread = spread;
  }

  run(profile: Float64Array, length: number, guess: number): boolean {
    const { a, b, spread } = this;
    let place = guess;
    let level = 0;
    let step = 1;
    // Start from the levels at the two ends.
    const ends = Math.max(2, length >> 2);
    let first = 0;
    let last = 0;
    for (let j = 0; j < ends; j++) {
      first += profile[j]! / ends;
      last += profile[length - 1 - j]! / ends;
    }
    level = first;
    step = last - first;
    let squares = 0;
    for (let round = 0; round < 6; round++) {
      a.fill(0);
      b.fill(0);
      squares = 0;
      for (let j = 0; j < length; j++) {
        const z = (j - place) / spread;
        const e = below(z);
        const d = z * z > 16 ? 0 : (-step / spread) * densityAt(z);
        const r = profile[j]! - level - step * e;
        squares += r * r;
        a[0] = a[0]! + 1;
        a[1] = a[1]! + e;
        a[2] = a[2]! + d;
        a[4] = a[4]! + e * e;
        a[5] = a[5]! + e * d;
        a[8] = a[8]! + d * d;
        b[0] = b[0]! + r;
        b[1] = b[1]! + r * e;
        b[2] = b[2]! + r * d;
      }
      const move = solve3(a, b);
      if (move === null) return false;
      level += move[0];
      step += move[1];
      place += Math.max(-1, Math.min(1, move[2]));
      if (Math.abs(place - guess) > length / 2) return false;
      if (Math.abs(move[2]) < 1e-3) break;
    }
    // The step along the contrast of the sheet is 1; what is left over must be small against it.
    const rest = Math.sqrt(squares / (length - 3));
    if (step * step < 0.04) return false;
    this.place = place;
    this.clarity = 1 / (1 + (4 * rest * rest) / (step * step * 0.01));
    return Number.isFinite(place);
  }
}

export function densityAt(z: number): number {
  return Math.exp((-z * z) / 2) * 0.3989422804014327;
}

function solve3(a: Float64Array, b: Float64Array): readonly [number, number, number] | null {
  // Symmetric, upper half given.
  const c00 = a[4]! * a[8]! - a[5]! * a[5]!;
  const c01 = a[2]! * a[5]! - a[1]! * a[8]!;
  const c02 = a[1]! * a[5]! - a[2]! * a[4]!;
  const det = a[0]! * c00 + a[1]! * c01 + a[2]! * c02;
  if (!(Math.abs(det) > 1e-12)) return null;
  const c11 = a[0]! * a[8]! - a[2]! * a[2]!;
  const c12 = a[1]! * a[2]! - a[0]! * a[5]!;
  const c22 = a[0]! * a[4]! - a[1]! * a[1]!;
  return [
    (c00 * b[0]! + c01 * b[1]! + c02 * b[2]!) / det,
    (c01 * b[0]! + c11 * b[1]! + c12 * b[2]!) / det,
    (c02 * b[0]! + c12 * b[1]! + c22 * b[2]!) / det,
  ];
}
