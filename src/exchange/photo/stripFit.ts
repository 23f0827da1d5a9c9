import { median, smoothedValues } from './chain';
import { averagedAlong, type Profiles } from './profiles';
import { belowBell } from './stepFit';

/** dots. Profiles for this reach so far to each side. */
export const stripReach = 14;

/** dots. What lies farther in than this is the piece. */
const pieceFrom = 9.5;

/** dots. The inner step is looked for from here ... */
const innermost = -8;

/** ... to here, and the outer one beyond it. */
const outermost = 3;

/** dots. The part of a profile that is fitted, and the narrowest strip. */
const fittedFrom = -11;
const fittedTo = 3.5;
const narrowest = 1;

/** dots between the places tried. */
const fine = 0.5;

/** Ratio. Two steps are believed where they leave less than this of what one step leaves unexplained. */
const muchBetter = 0.4;

/** Share of the profile. One step that leaves less unexplained explains it. */
const explainedByOne = 0.01;

/** Ratio. The inner step is at least this share of the outer one: less may be a stain of the piece. */
const leastInner = 0.15;

export interface Strips {
  /** From the chain outward to the inner step, dots; 0 where one step explains the profile as well. */
  readonly offsets: Float64Array;
  /** 1 where two steps explain the profile and one does not. */
  readonly found: Uint8Array;
}

/**
 * Where a strip lies beside the piece (a ruled line of the table along the edge), the profile has two steps: from the
 * piece's colour to the strip's and from that to the table's. The edge is the inner one, whose inner side has the piece's
 * own colour, however much steeper the other is. Least squares in all channels, each colour free, at the places flagged.
 */
export function stripsBeside(profiles: Profiles, flagged: Uint8Array, blur: number): Strips {
  const { count, across, step, reach } = profiles;
  const channels = profiles.channels.map((channel) => averagedAlong(channel, count, across));
  const lastOfPiece = Math.round((reach - pieceFrom) / step);
  for (const channel of channels) {
    const level = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      for (let k = 0; k <= lastOfPiece; k++) level[i] = level[i]! + channel[i * across + k]! / (lastOfPiece + 1);
    }
    const own = smoothedValues(level, 6);
    for (let i = 0; i < count; i++) {
      for (let k = 0; k < across; k++) channel[i * across + k] = channel[i * across + k]! - own[i]!;
    }
  }
  const from = Math.round((reach + fittedFrom) / step);
  const width = Math.round((fittedTo - fittedFrom) / step) + 1;
  const tried = Math.round((outermost - innermost) / fine) + 1;
  const shapes = new Float64Array(tried * width);
  for (let t = 0; t < tried; t++) {
    for (let k = 0; k < width; k++) {
      shapes[t * width + k] = belowBell((fittedFrom + k * step - (innermost + t * fine)) / blur);
    }
  }
  const products = new Float64Array(tried * tried);
  for (let a = 0; a < tried; a++) {
    for (let b = 0; b < tried; b++) {
      for (let k = 0; k < width; k++) {
        products[a * tried + b] = products[a * tried + b]! + shapes[a * width + k]! * shapes[b * width + k]!;
      }
    }
  }
  const apart = Math.round(narrowest / fine);
  const offsets = new Float64Array(count);
  const found = new Uint8Array(count);
  const sums = new Float64Array(3 * tried);
  const explained = (a: number, b: number) => {
    const aa = products[a * tried + a]!;
    const ab = products[a * tried + b]!;
    const bb = products[b * tried + b]!;
    let sum = 0;
    for (let c = 0; c < 3; c++) {
      const p = sums[c * tried + a]!;
      const q = sums[c * tried + b]!;
      sum += bb * p * p - 2 * ab * p * q + aa * q * q;
    }
    return sum / (aa * bb - ab * ab);
  };
  for (let i = 0; i < count; i++) {
    if (flagged[i] === 0) continue;
    let whole = 0;
    channels.forEach((channel, c) => {
      const base = i * across + from;
      for (let k = 0; k < width; k++) whole += channel[base + k]! ** 2;
      for (let t = 0; t < tried; t++) {
        let sum = 0;
        for (let k = 0; k < width; k++) sum += shapes[t * width + k]! * channel[base + k]!;
        sums[c * tried + t] = sum;
      }
    });
    let one = 0;
    for (let t = 0; t < tried; t++) {
      let sum = 0;
      for (let c = 0; c < 3; c++) sum += sums[c * tried + t]! ** 2;
      one = Math.max(one, sum / products[t * tried + t]!);
    }
    let two = 0;
    let inner = 0;
    let outer = apart;
    for (let a = 0; a < tried - apart; a++) {
      for (let b = a + apart; b < tried; b++) {
        const here = explained(a, b);
        if (here <= two) continue;
        two = here;
        inner = a;
        outer = b;
      }
    }
    if (inner === 0 || whole - one < explainedByOne * whole || !(whole - two < muchBetter * (whole - one))) continue;
    if (innerShare(sums, products, tried, inner, outer) < leastInner) continue;
    const before = explained(inner - 1, outer);
    const after = inner + 1 < outer ? explained(inner + 1, outer) : two;
    const bend = before - 2 * two + after;
    offsets[i] =
      innermost + (inner + (bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0)) * fine;
    found[i] = 1;
  }
  return { offsets, found };
}

/** Height of the inner step over that of the outer one, all channels together. */
function innerShare(sums: Float64Array, products: Float64Array, tried: number, a: number, b: number): number {
  const aa = products[a * tried + a]!;
  const ab = products[a * tried + b]!;
  const bb = products[b * tried + b]!;
  let inner = 0;
  let outer = 0;
  for (let c = 0; c < 3; c++) {
    const p = sums[c * tried + a]!;
    const q = sums[c * tried + b]!;
    inner += (bb * p - ab * q) ** 2;
    outer += (aa * q - ab * p) ** 2;
  }
  return Math.sqrt(inner / (outer || 1));
}

/**
 * The strips that go on along the edge: at each flagged place the middle offset of the places found within `around`
 * places, where these are most of those flagged; 0 elsewhere.
 */
export function steadyOffsets({ offsets, found }: Strips, flagged: Uint8Array, around: number): Float64Array {
  const n = offsets.length;
  const steady = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    if (flagged[i] === 0) continue;
    const near: number[] = [];
    let all = 0;
    for (let k = -around; k <= around; k++) {
      const j = (i + k + n) % n;
      all += flagged[j]!;
      if (found[j] === 1) near.push(offsets[j]!);
    }
    if (near.length > all / 2) steady[i] = median(near);
  }
  return steady;
}
