import { bestClosedPath } from './bestPath';
import { type Chain, evenly, median, moved, normalsOf, smoothed, smoothedValues } from './chain';
import { bendCost, type Placed, usualPeak } from './edgePlace';
import type { Picture } from './picture';
import { averagedAlong, sampleProfiles } from './profiles';
import { brightness } from './tones';

/**
 * The middle of a dark line along a rough chain (dots) that may be off by `reach` dots: first the way round that keeps to
 * the darkest places, then, twice, the middle of what the paper beside the line has more of light. `halfWidth` is half
 * the widest line looked for, dots.
 */
export function placeLine(picture: Picture, rough: Chain, reach: number, halfWidth: number): Placed {
  let chain = alongDarkest(picture, rough, reach, halfWidth);
  let strength: Float64Array = new Float64Array(chain.xs.length);
  let half = halfWidth + 2;
  for (let round = 0; round < 2; round++) {
    chain = evenly(smoothed(chain, 2), 1);
    const normals = normalsOf(chain, 3);
    const middle = darkMiddle(picture, chain, normals, half);
    // As narrow as the line allows, so that near a corner the other side's line does not come into it.
    half = Math.min(half, 2.5 * middle.spread + 1);
    chain = moved(chain, normals, middle.offsets);
    strength = middle.strength;
  }
  return { chain, strength, unlike: new Uint8Array(chain.xs.length) };
}

function alongDarkest(picture: Picture, rough: Chain, reach: number, halfWidth: number): Chain {
  const normals = normalsOf(rough, 4);
  const span = reach + Math.ceil(halfWidth) + 2;
  const profiles = sampleProfiles(picture, rough, normals, span, 1);
  const { count, across } = profiles;
  const grey = greyOf(profiles);
  const scores = new Float32Array(count * across);
  const side = Math.ceil(halfWidth) + 2;
  for (let i = 0; i < count; i++) {
    for (let k = side; k < across - side; k++) {
      const j = i * across + k;
      const here = (grey[j - 1]! + 2 * grey[j]! + grey[j + 1]!) / 4;
      scores[j] = Math.max(0, Math.min(grey[j - side]!, grey[j + side]!) - here);
    }
  }
  const usual = usualPeak(scores, count, across);
  if (usual > 0) for (let j = 0; j < scores.length; j++) scores[j] = Math.min(1.2, scores[j]! / usual);
  const path = bestClosedPath(scores, count, across, bendCost);
  return moved(
    rough,
    normals,
    Float64Array.from(path, (k) => k - span),
  );
}

function greyOf(profiles: { readonly channels: readonly [Float32Array, Float32Array, Float32Array] }): Float32Array {
  const [red, green, blue] = profiles.channels;
  return red.map((r, j) => brightness[0] * r + brightness[1] * green[j]! + brightness[2] * blue[j]!);
}

function darkMiddle(
  picture: Picture,
  chain: Chain,
  normals: Chain,
  half: number,
): { offsets: Float64Array; strength: Float64Array; spread: number } {
  const profiles = sampleProfiles(picture, chain, normals, Math.ceil(half) + 2, 0.5);
  const { count, across, step, reach } = profiles;
  const grey = averagedAlong(greyOf(profiles), count, across);
  // The paper's light on each side: the last two dots, so that uneven light across the line is taken out.
  const paper = (side: 1 | -1) => {
    const level = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      const outer = Array.from({ length: 4 }, (_, k) => grey[i * across + (side < 0 ? k : across - 1 - k)]!);
      level[i] = median(outer);
    }
    return smoothedValues(level, 3);
  };
  const left = paper(-1);
  const right = paper(1);
  const depth = new Float64Array(count);
  const offsets = new Float64Array(count);
  const darks = new Float64Array(across);
  const spreads = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let top = 0;
    for (let k = 0; k < across; k++) {
      const t = k / (across - 1);
      darks[k] = (1 - t) * left[i]! + t * right[i]! - grey[i * across + k]!;
      if (Math.abs(k * step - reach) <= half) top = Math.max(top, darks[k]!);
    }
    depth[i] = top;
    // Only the one dark run around the middle of the profile counts, down to a tenth of its depth.
    let peak = (across - 1) / 2;
    for (let k = 0; k < across; k++) {
      if (Math.abs(k * step - reach) <= 2 && darks[k]! > darks[peak]!) peak = k;
    }
    let sum = 0;
    let first = 0;
    let second = 0;
    const take = (k: number) => {
      const dark = darks[k]! - 0.1 * top;
      if (dark <= 0) return false;
      sum += dark;
      first += dark * (k * step - reach);
      second += dark * (k * step - reach) ** 2;
      return true;
    };
    for (let k = peak; k < across && take(k); k++);
    for (let k = peak - 1; k >= 0 && take(k); k--);
    if (sum > 0) spreads[i] = Math.sqrt(Math.max(0, second / sum - (first / sum) ** 2));
    offsets[i] = sum > 0 ? Math.max(-half, Math.min(half, first / sum)) : 0;
  }
  const usual = median(depth);
  return { offsets, strength: depth.map((d) => (usual > 0 ? d / usual : 0)), spread: median(spreads) };
}
