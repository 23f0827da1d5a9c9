import { type FreeLine, fineStep } from './freeLine';
import { belowBell } from './stepFit';
import type { AcrossLine } from './tableRows';

/** mm. The edge is looked for so far to each side of the straight run, and the line so far from where it is expected. */
export const edgeReach = 1.5;
export const lineReach = 0.15;

/** mm. Profiles reach so far to each side. */
export const reach = 3.6;

/** mm between the places tried first, and last. */
export const coarse = 0.2;
const finest = 0.0125;

/** A shadow beside the paper: its depth, a share of light, at the edge; it fades evenly over its width, mm. */
export interface Shadow {
  readonly depth: number;
  readonly width: number;
}

/** Parts of even depth that a shadow is made of. */
const strips = 3;

/** Deviations of blur beyond which a step is over. */
const clear = 2.5;

/** mm. Paper or table this far beyond the last step is read too. */
const beyond = 0.6;

/** Where edge and line were found, mm outward of the run, at a distance along it. */
export interface LineFit {
  readonly u: number;
  readonly edge: number;
  readonly line: number;
  /** Share of the profile that they leave unexplained. */
  readonly rest: number;
}

/** What the picture shows across a run, at a distance along it. */
export interface Group {
  readonly u: number;
  readonly across: AcrossLine;
}

/** How what lies below is seen: through the paper, and in the paper's shadow. */
export interface Seeing {
  readonly through: number;
  readonly shadow: Shadow;
}

/** Paper that lets nothing through and has no shadow. */
export const plainly: Seeing = { through: 0, shadow: { depth: 0, width: 0 } };

/** The places of edge and line that leave the least of the profile unexplained; the line within `slack` mm of its place. */
export function fitOf(
  { u, across: { channels, mmPerDot } }: Group,
  { width, change }: Pick<FreeLine, 'width' | 'change'>,
  seeing: Seeing,
  blur: number,
  expected: number,
  slack: number,
): LineFit {
  const sigma = blur * mmPerDot;
  const margin = clear * sigma + beyond;
  const across = channels[0].length;
  const lowest = Math.min(-edgeReach, expected - width / 2) - margin;
  const highest = Math.max(edgeReach / 2, expected + width / 2) + margin;
  const from = Math.max(0, Math.ceil((lowest + reach) / fineStep));
  const to = Math.min(across - 1, Math.floor((highest + reach) / fineStep));
  const seen = channels.map((channel) => channel.subarray(from, to + 1));
  const score = (e: number, l: number) =>
    unexplained(seen, from * fineStep - reach, sigma, e, l - width / 2, l + width / 2, change, seeing);
  let edge = 0;
  let line = expected;
  let rest = Number.POSITIVE_INFINITY;
  const attempt = (e: number, l: number): boolean => {
    if (Math.abs(e) > edgeReach || Math.abs(l - expected) > slack + 1e-9) return false;
    const here = score(e, l);
    if (!(here < rest)) return false;
    [edge, line, rest] = [e, l, here];
    return true;
  };
  for (let l = expected - slack; l <= expected + slack + 1e-9; l += coarse) {
    for (let e = -edgeReach; e <= edgeReach; e += coarse) attempt(e, slack < coarse ? expected : l);
    if (slack < coarse) break;
  }
  for (let step = coarse / 2; step >= finest; step /= 2) {
    for (let moves = 0; moves < 4; moves++) {
      const [e, l] = [edge, line];
      const isBetter = [
        attempt(e + step, l) || attempt(e - step, l),
        attempt(edge, l + step) || attempt(edge, l - step),
      ];
      if (!isBetter[0] && !isBetter[1]) break;
    }
  }
  let whole = 0;
  for (const channel of seen) {
    let sum = 0;
    let squares = 0;
    for (let k = 0; k < channel.length; k++) {
      sum += channel[k]!;
      squares += channel[k]! ** 2;
    }
    whole += squares - sum ** 2 / channel.length;
  }
  return { u, edge, line, rest: whole > 0 ? rest / whole : 1 };
}

/** Squares that paper up to e, and table with a line from lo to hi beyond it, leave of a profile that begins at `start`. */
function unexplained(
  seen: readonly Float64Array[],
  start: number,
  sigma: number,
  e: number,
  lo: number,
  hi: number,
  change: readonly number[],
  { through, shadow }: Seeing,
): number {
  const size = seen[0]!.length;
  if (room.inside.length < size) room = roomFor(2 * size);
  const { inside, outside, bar } = room;
  const under = Math.min(hi, Math.max(lo, e));
  for (let k = 0; k < size; k++) {
    const v = start + k * fineStep;
    const past = bell((v - e) / sigma);
    inside[k] = 1 - past;
    outside[k] = past;
    const below = bell((v - under) / sigma);
    bar[k] = below - bell((v - hi) / sigma);
    if (through > 0 && under > lo) bar[k] = bar[k]! + through * (bell((v - lo) / sigma) - below);
    for (let strip = 0; shadow.depth > 0 && strip < strips; strip++) {
      const dark = shadow.depth * (1 - (strip + 0.5) / strips);
      const a = e + (shadow.width * strip) / strips;
      const b = a + shadow.width / strips;
      outside[k] = outside[k]! - dark * (bell((v - a) / sigma) - bell((v - b) / sigma));
      const [c, d] = [Math.max(a, lo), Math.min(b, hi)];
      if (d > c) bar[k] = bar[k]! - dark * (bell((v - c) / sigma) - bell((v - d) / sigma));
    }
  }
  let rest = 0;
  for (let c = 0; c < 3; c++) {
    const channel = seen[c]!;
    const by = change[c]!;
    let aa = 0;
    let ab = 0;
    let bb = 0;
    let am = 0;
    let bm = 0;
    let mm = 0;
    for (let k = 0; k < size; k++) {
      const a = inside[k]!;
      const b = outside[k]! + by * bar[k]!;
      const m = channel[k]!;
      aa += a * a;
      ab += a * b;
      bb += b * b;
      am += a * m;
      bm += b * m;
      mm += m * m;
    }
    rest += mm - (bb * am * am - 2 * ab * am * bm + aa * bm * bm) / (aa * bb - ab * ab);
  }
  return rest;
}

/** Scratch room, used again by every profile. */
let room = roomFor(80);

function roomFor(size: number) {
  return { inside: new Float64Array(size), outside: new Float64Array(size), bar: new Float64Array(size) };
}

/** The blurred step from a table: it is asked for a million times. */
const perDeviation = 64;
const bells = Float64Array.from({ length: 10 * perDeviation + 2 }, (_, k) => belowBell(k / perDeviation - 5));

function bell(x: number): number {
  if (x <= -5) return 0;
  if (x >= 5) return 1;
  const at = (x + 5) * perDeviation;
  const low = at | 0;
  return bells[low]! + (bells[low + 1]! - bells[low]!) * (at - low);
}
