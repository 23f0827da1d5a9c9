import { acrossAt, type EdgeCurve, squareness } from './edgeCurve';
import type { EdgeLook } from './edgeProfile';
import type { Picture } from './picture';
import { brightness } from './tones';

/** Dots on each side of the edge in the mean profile, and its bins to the dot. */
const reach = 8;
const perDot = 4;
const bins = 2 * reach * perDot;

/**
 * The power by which bytes become light. sRGB (IEC 61966-2-1) follows about 2.2; telephones bend it further for contrast.
 * Taking the half-way byte (a power of 1) would place the edges of a white sheet 0.3 to 0.5 of the blur too far out; 2.3
 * leaves between +0.02 of it (plain sRGB) and -0.17 (a strong tone curve), computed for tables of 5 to 40 % light.
 */
const power = 2.3;

const light: Float32Array = Float32Array.from({ length: 256 }, (_, code) => (code / 255) ** power);

/** A guess to begin with. */
const usualLook: EdgeLook = { blur: 1.2, light };

/**
 * How far the camera smeared the sheet's edges, from their mean profile: thousands of rows crossing an edge at different
 * parts of a dot show it far more finely than one row (the slanted-edge method of ISO 12233, from memory).
 */
export function readEdgeLook(picture: Picture, curves: readonly EdgeCurve[]): EdgeLook {
  const profile = meanProfile(picture, curves);
  return profile === null ? usualLook : { blur: widthOf(profile), light };
}

/** Mean coded brightness, 0 to 1, over the distance from the edge, from the dark side to the light one. */
function meanProfile(picture: Picture, curves: readonly EdgeCurve[]): Float64Array | null {
  const sums = new Float64Array(bins);
  const counts = new Float64Array(bins);
  for (const curve of curves) {
    const one = oneProfile(picture, curve);
    if (one === null) continue;
    for (let i = 0; i < bins; i++) {
      sums[i] = sums[i]! + one[i]!;
      counts[i] = counts[i]! + 1;
    }
  }
  if (counts[0] === 0) return null;
  return sums.map((sum, i) => sum / counts[i]!);
}

function oneProfile(picture: Picture, curve: EdgeCurve): Float64Array | null {
  const { data, width, height } = picture;
  const { alongX } = curve;
  const square = squareness(curve);
  const half = Math.ceil(reach / square);
  const runStride = alongX ? 4 : 4 * width;
  const acrossStride = alongX ? 4 * width : 4;
  const runSize = alongX ? width : height;
  const acrossSize = alongX ? height : width;
  const [low, high] = [Math.min(curve.start, curve.end), Math.max(curve.start, curve.end)];
  const spare = 0.05 * (high - low);
  const first = Math.max(0, Math.ceil(low + spare));
  const last = Math.min(runSize - 1, Math.floor(high - spare));
  const stride = Math.max(1, Math.floor((last - first) / 800));
  const sums = new Float64Array(bins);
  const counts = new Float64Array(bins);
  for (let run = first; run <= last; run += stride) {
    const line = acrossAt(curve, run + 0.5);
    const from = Math.max(0, Math.floor(line) - half);
    const to = Math.min(acrossSize - 1, Math.floor(line) + half);
    for (let j = from; j <= to; j++) {
      const bin = Math.floor(((j + 0.5 - line) * square + reach) * perDot);
      if (bin < 0 || bin >= bins) continue;
      const at = run * runStride + j * acrossStride;
      sums[bin] =
        sums[bin]! + data[at]! * brightness[0] + data[at + 1]! * brightness[1] + data[at + 2]! * brightness[2];
      counts[bin] = counts[bin]! + 1;
    }
  }
  const profile = sums.map((sum, i) => sum / counts[i]! / 255);
  if (profile.some((value) => !Number.isFinite(value))) return null;
  return profile[0]! > profile[bins - 1]! ? profile.reverse() : profile;
}

/** Levels on both sides, from 4 to 7 dots off. */
function levels(lit: Float64Array): { low: number; high: number } {
  const mean = (from: number, to: number): number => {
    let sum = 0;
    for (let i = from; i < to; i++) sum += lit[i]!;
    return sum / (to - from);
  };
  const low = mean(perDot, 4 * perDot);
  const high = mean(bins - 4 * perDot, bins - perDot);
  return { low, high };
}

/** The bin, with a fraction, where the profile first rises through a level going up from its dark side. */
function crossing(lit: Float64Array, level: number): number {
  for (let i = 1; i < bins; i++) {
    if (lit[i - 1]! < level && lit[i]! >= level) return i - 1 + (level - lit[i - 1]!) / (lit[i]! - lit[i - 1]!);
  }
  return bins / 2;
}

/** Dots: half the distance between 16 % and 84 % of the step, which is a Gaussian's standard deviation. */
function widthOf(profile: Float64Array): number {
  const lit = profile.map((value) => value ** power);
  const { low, high } = levels(lit);
  const at = (share: number): number => crossing(lit, low + (high - low) * share);
  const width = (at(0.8413) - at(0.1587)) / 2 / perDot;
  return Math.max(0.35, Math.min(6, Number.isFinite(width) ? width : 1.2));
}
