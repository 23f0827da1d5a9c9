import { acrossAt, type EdgeCurve, squareness } from './edgeCurve';
import type { Picture } from './picture';

/** The mean course of the light across an edge, as a picture codes it, 0 to 1. */
export interface EdgeMean {
  /** Dots square to the edge, outward of the curve positive; the mean place of each bin. */
  readonly x: Float64Array;
  readonly level: Float64Array;
}

/** Dots on each side of the curve, and bins to the dot. */
export const meanReach = 7;
const perDot = 4;
const bins = 2 * meanReach * perDot;

/** An edge is cut into this many stretches; in each bin the lowest and highest parts are left out (tape, a thumb, a line). */
const stretches = 16;
const leftOut = 3 / 16;

/** The power by which light is coded (edgeLook.ts). */
export const codingPower = 1 / 2.3;

/** Rows of each stretch that are read, at most. */
const mostRows = 60;

/**
 * Hundreds of rows laid over each other by their distance from the curve: they cross it at different parts of a dot, so
 * together they show the profile finely (the slanted edge of ISO 12233, from memory). Null where too little is seen.
 * `outward` is the sign of the other coordinate that leads out of the sheet; `contrast` the light of the sheet less that of
 * the table, red, green and blue, along which the profile is taken.
 */
export function meanAcross(
  picture: Picture,
  curve: EdgeCurve,
  outward: number,
  light: Float32Array,
  contrast: readonly number[],
): EdgeMean | null {
  const [wr, wg, wb] = weightsOf(contrast);
  const { data, width, height } = picture;
  const { alongX } = curve;
  const square = squareness(curve);
  const half = Math.ceil(meanReach / square) + 1;
  const runStride = alongX ? 4 : 4 * width;
  const acrossStride = alongX ? 4 * width : 4;
  const runSize = alongX ? width : height;
  const acrossSize = alongX ? height : width;
  const [low, high] = [Math.min(curve.start, curve.end), Math.max(curve.start, curve.end)];
  const spare = 0.05 * (high - low);
  const long = (high - low - 2 * spare) / stretches;
  const levels = Array.from({ length: bins }, (): number[] => []);
  const places = new Float64Array(bins);
  const counts = new Float64Array(bins);
  for (let part = 0; part < stretches; part++) {
    const sums = new Float64Array(bins);
    const own = new Float64Array(bins);
    const rows = Math.max(1, Math.min(mostRows, Math.floor(long)));
    for (let i = 0; i < rows; i++) {
      const run = Math.floor(low + spare + (part + (i + 0.5) / rows) * long);
      if (run < 0 || run >= runSize) continue;
      const line = acrossAt(curve, run + 0.5);
      const from = Math.max(0, Math.floor(line) - half);
      const to = Math.min(acrossSize - 1, Math.floor(line) + half);
      for (let j = from; j <= to; j++) {
        const away = (j + 0.5 - line) * square * outward;
        const bin = Math.floor((away + meanReach) * perDot);
        if (bin < 0 || bin >= bins) continue;
        const at = run * runStride + j * acrossStride;
        sums[bin] = sums[bin]! + wr * light[data[at]!]! + wg * light[data[at + 1]!]! + wb * light[data[at + 2]!]!;
        own[bin] = own[bin]! + 1;
        places[bin] = places[bin]! + away;
        counts[bin] = counts[bin]! + 1;
      }
    }
    for (let bin = 0; bin < bins; bin++) if (own[bin]! > 0) levels[bin]!.push((sums[bin]! / own[bin]!) ** codingPower);
  }
  const x: number[] = [];
  const level: number[] = [];
  for (let bin = 0; bin < bins; bin++) {
    const sorted = levels[bin]!.sort((a, b) => a - b);
    if (sorted.length === 0) continue;
    const few = Math.floor(sorted.length * leftOut);
    const kept = sorted.slice(few, sorted.length - few);
    x.push(places[bin]! / counts[bin]!);
    level.push(kept.reduce((sum, value) => sum + value, 0) / kept.length);
  }
  return x.length < bins / perDot ? null : { x: Float64Array.from(x), level: Float64Array.from(level) };
}

/** Shares of red, green and blue; those that change the other way than most are left out. */
function weightsOf(contrast: readonly number[]): readonly [number, number, number] {
  const sign = Math.sign(contrast[0]! + contrast[1]! + contrast[2]!) || 1;
  const [r, g, b] = contrast.map((value) => Math.max(0, sign * value)) as [number, number, number];
  const sum = r + g + b || 1;
  return [r / sum, g / sum, b / sum];
}
