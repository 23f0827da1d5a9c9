import { median, quantile, smoothedValues } from './chain';
import { averagedAlong, type Profiles } from './profiles';

/** dots. Blur and sharpening of a camera reach this far to each side of an edge; farther in the piece is itself. */
const clearOf = 2.5;

/** Standard deviations of blur tried, dots: from a sharp scan to a picture out of focus. */
const blurs = [0.5, 0.7, 0.9, 1.2, 1.6, 2.2, 3];

/** Ratios to the best of them tried after it: a blur a tenth wrong moves the edge by as many parts of a dot. */
const finerBlurs = [0.84, 0.89, 0.94, 1, 1.06, 1.12, 1.19];

/** Places of the edge tried on each profile: within this many dots of the chain. */
const farthestOff = 2;

/** Dots inside and outside of the chain that are fitted. */
const fittedInside = 4;
const fittedOutside = 2;

/** Dots between the places tried; between them a parabola through three decides. */
const fine = 0.25;

/** Share of the profile that a step leaves unexplained from which on it is not one step. */
const noStep = 0.02;

export interface Steps {
  /** From the chain outward, dots. */
  readonly offsets: Float64Array;
  /** Height of the step as a share of what is usual; 0 where there is none. */
  readonly strength: Float64Array;
  /** 1 where the profile is not that of one step: a strip lies beside the edge, or a mark on it. */
  readonly unlike: Uint8Array;
  /** dots. Standard deviation of the blur that fits best. */
  readonly blur: number;
}

/**
 * The place of a blurred step on each profile: inside lies the piece's colour there, which is known from farther in;
 * outside a colour that is fitted, over a few dots only, so that neither a shadow that fades away from the paper nor a
 * pattern of the table comes into it. Least squares in all three channels; the blur is that which fits the outline best.
 */
export function fittedSteps(profiles: Profiles): Steps {
  const { count, across } = profiles;
  const middle = (across - 1) / 2;
  const channels = profiles.channels.map((channel) => averagedAlong(channel, count, across));
  for (const channel of channels) {
    const level = new Float64Array(count);
    const last = middle - Math.round(clearOf / profiles.step);
    for (let i = 0; i < count; i++) {
      for (let k = 0; k <= last; k++) level[i] = level[i]! + channel[i * across + k]! / (last + 1);
    }
    const own = smoothedValues(level, 6);
    for (let i = 0; i < count; i++) {
      for (let k = 0; k < across; k++) channel[i * across + k] = channel[i * across + k]! - own[i]!;
    }
  }
  const few = Math.max(1, Math.floor(count / 300));
  const bestOf = (tried: readonly number[]) => {
    const misfits = tried.map((blur) => stepsWith(channels, profiles, blur, few).misfit);
    return tried[misfits.indexOf(Math.min(...misfits))]!;
  };
  const coarse = bestOf(blurs);
  const blur = bestOf(finerBlurs.map((ratio) => ratio * coarse));
  return { ...stepsWith(channels, profiles, blur, 1), blur };
}

function stepsWith(
  channels: readonly Float32Array[],
  { count, across, step, reach }: Profiles,
  blur: number,
  every: number,
): Omit<Steps, 'blur'> & { readonly misfit: number } {
  const from = Math.round((reach - fittedInside) / step);
  const to = Math.round((reach + fittedOutside) / step);
  const tried = 2 * Math.round(farthestOff / fine) + 1;
  const width = to - from + 1;
  const shape = new Float64Array(tried * width);
  const norms = new Float64Array(tried);
  for (let t = 0; t < tried; t++) {
    for (let k = 0; k < width; k++) {
      const e = belowBell(((from + k) * step - reach - (t * fine - farthestOff)) / blur);
      shape[t * width + k] = e;
      norms[t] = norms[t]! + e * e;
    }
  }
  const offsets = new Float64Array(count);
  const heights = new Float64Array(count);
  const matches = new Float64Array(tried);
  const misfits = new Float64Array(count);
  for (let i = 0; i < count; i += every) {
    let whole = 0;
    for (const channel of channels) {
      for (let k = i * across + from, end = k + width; k < end; k++) whole += channel[k]! ** 2;
    }
    matches.fill(0);
    const match = (t: number) => {
      let squares = 0;
      for (const channel of channels) {
        let sum = 0;
        for (let k = 0, at = i * across + from, e = t * width; k < width; k++) sum += shape[e + k]! * channel[at + k]!;
        squares += sum * sum;
      }
      matches[t] = squares / norms[t]!;
    };
    // The match is smooth over half a dot: every other place first, then those beside the best.
    let best = 0;
    for (let t = 0; t < tried; t += 2) {
      match(t);
      if (matches[t]! > matches[best]!) best = t;
    }
    const [below, above] = [best - 1, best + 1];
    if (below >= 0) match(below);
    if (above < tried) match(above);
    if (below >= 0 && matches[below]! > matches[best]!) best = below;
    if (above < tried && matches[above]! > matches[best]!) best = above;
    heights[i] = Math.sqrt(matches[best]! / norms[best]!);
    misfits[i] = whole > 0 ? 1 - matches[best]! / whole : 1;
    if (best === 0 || best === tried - 1) {
      heights[i] = 0;
      continue;
    }
    const [a, b, c] = [matches[best - 1]!, matches[best]!, matches[best + 1]!];
    const bend = a - 2 * b + c;
    offsets[i] = (best + (bend < 0 ? (0.5 * (a - c)) / bend : 0)) * fine - farthestOff;
  }
  const usual = median(heights);
  // Of the plainest quarter: long stretches may have something beside the edge.
  const misfit = quantile(
    misfits.filter((_, i) => i % every === 0),
    0.25,
  );
  const around = every === 1 ? smoothedValues(misfits, 4) : misfits;
  const strength = heights.map((h) => (usual > 0 ? h / usual : 0));
  const unlike = Uint8Array.from(around, (m) => (m > Math.max(4 * misfit, noStep) ? 1 : 0));
  return { offsets, strength, unlike, misfit };
}

/** Share of a bell curve of deviation 1 below x (Abramowitz and Stegun 26.2.17, error below 1e-7). */
export function belowBell(x: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const tail =
    Math.exp((-x * x) / 2) *
    0.3989422804 *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return x > 0 ? 1 - tail : tail;
}
