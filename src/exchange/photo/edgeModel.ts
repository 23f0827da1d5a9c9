import type { Point } from '../../geometry/point';
import { codingPower, type EdgeMean } from './edgeMean';
import { below, densityAt } from './edgeProfile';
import { solveNormal } from './normalEquations';

/** What all edges share. */
export interface CameraModel {
  /** Dots: standard deviation of the blur, before the camera's own work on the coded picture. */
  readonly blur: number;
  /** How much the camera sharpened the coded picture; less than 0 where saving smoothed it. */
  readonly sharpened: number;
}

/** One edge, in light. */
export interface EdgeModel {
  /** Dots outward of the curve. */
  readonly place: number;
  readonly inside: number;
  readonly insideSlope: number;
  readonly outside: number;
  readonly outsideSlope: number;
  /** Share of the light that the shadow takes beside the edge; it fades evenly over `shadowWidth` dots. */
  readonly shadow: number;
  readonly shadowWidth: number;
}

/** Dots: the radius at which cameras sharpen and the saving of a picture smooths (common practice, no source). */
const sharpenRadius = 1.2;

const perDot = 4;
const reach = 10;
const samples = 2 * reach * perDot + 1;
const kernelReach = Math.ceil(2.5 * sharpenRadius * perDot);
const kernel = (() => {
  const raw = Array.from({ length: 2 * kernelReach + 1 }, (_, i) =>
    Math.exp(-(((i - kernelReach) / perDot) ** 2) / (2 * sharpenRadius ** 2)),
  );
  const sum = raw.reduce((total, value) => total + value, 0);
  return Float64Array.from(raw, (value) => value / sum);
})();

/** The coded profile of an edge every quarter of a dot from -10 to 10 dots of the curve. */
export function profileOf(camera: CameraModel, edge: EdgeModel): Float64Array {
  const plain = new Float64Array(samples);
  // A dot is a square: its width adds to the blur.
  const s = Math.sqrt(camera.blur ** 2 + 1 / 12);
  const { place, inside, insideSlope, outside, outsideSlope, shadow, shadowWidth } = edge;
  const wide = Math.max(0.05, shadowWidth);
  const ramp = (x: number) => x * below(x / s) + s * densityAt(x / s);
  for (let i = 0; i < samples; i++) {
    const x = i / perDot - reach - place;
    const beyond = below(x / s);
    const out = ramp(x);
    const shade = shadowWidth > 0 ? (shadowWidth / wide) * (beyond - (out - ramp(x - wide)) / wide) : 0;
    const light =
      inside * (1 - beyond) + insideSlope * (x - out) + outside * (beyond - shadow * shade) + outsideSlope * out;
    plain[i] = Math.min(1, Math.max(1e-4, light)) ** codingPower;
  }
  const done = new Float64Array(samples);
  for (let i = 0; i < samples; i++) {
    let soft = 0;
    for (let k = -kernelReach; k <= kernelReach; k++) {
      soft += kernel[k + kernelReach]! * plain[Math.max(0, Math.min(samples - 1, i + k))]!;
    }
    done[i] = Math.min(1, Math.max(0, plain[i]! + camera.sharpened * (plain[i]! - soft)));
  }
  return done;
}

/** A profile of `profileOf` at x dots from the curve. */
export function levelAt(profile: Float64Array, x: number): number {
  const u = Math.max(0, Math.min(samples - 1.001, (x + reach) * perDot));
  const i = Math.floor(u);
  return profile[i]! + (profile[i + 1]! - profile[i]!) * (u - i);
}

/** Blur, sharpening, depth of the shadow, and where it falls (x, y in dots); then for each edge its place and levels. */
const shared = 5;
const own = 5;

/** Rounds from each direction of the light that is tried, and from the best of them. */
const firstRounds = 4;
const lastRounds = 10;

/** Least spread of the mean profiles about the model, as coded: what texture and saving leave. */
const leastMisfit = 0.0007;

/** What is known beforehand, middle and spread (common practice, no source). */
const usualSharpened = [0, 0.3] as const;
const usualShadow = [0.4, 0.2] as const;
/** Dots. */
const usualFall = 3;
/** Parts of the level to a dot. */
const insideSlopes = 0.01;
const outsideSlopes = 0.02;

interface State {
  readonly values: Float64Array;
  readonly misfits: readonly number[];
  readonly cost: number;
}

/**
 * Camera and edges that explain the mean profiles of the edges together (Levenberg and Marquardt, derivatives by
 * differences). One light throws the shadows of all edges: they fall one way, so that the edges towards the light show
 * the blur and those away from it the shadow. `outward` is the unit normal of each edge.
 */
export function fitModel(
  means: readonly EdgeMean[],
  outward: readonly Point[],
  blur: number,
): { readonly camera: CameraModel; readonly edges: readonly EdgeModel[] } | null {
  let best: State | null = null;
  for (let i = 0; i < 4; i++) {
    const [p, q] = [outward[i]!, outward[(i + 1) % 4]!];
    const state = improve(means, outward, startOf(means, blur, { x: p.x + q.x, y: p.y + q.y }), firstRounds);
    if (state !== null && (best === null || state.cost < best.cost)) best = state;
  }
  if (best !== null) best = improve(means, outward, best.values, lastRounds);
  if (best === null) return null;
  const v = best.values;
  return { camera: cameraIn(v), edges: means.map((_, m) => edgeIn(v, outward[m]!, m)) };
}

function startOf(means: readonly EdgeMean[], blur: number, fall: Point): Float64Array {
  const start = [blur, 0, usualShadow[0], fall.x, fall.y];
  for (const { x, level } of means) {
    const mean = (from: number, to: number) => {
      let [sum, count] = [0, 0];
      for (let i = 0; i < x.length; i++) {
        if (x[i]! < from || x[i]! > to) continue;
        sum += level[i]!;
        count++;
      }
      return (sum / Math.max(1, count)) ** (1 / codingPower);
    };
    start.push(0, mean(-7, -3), 0, mean(4, 7), 0);
  }
  return Float64Array.from(start);
}

function improve(
  means: readonly EdgeMean[],
  outward: readonly Point[],
  start: Float64Array,
  rounds: number,
): State | null {
  const unknowns = start.length;
  const rest = (v: Float64Array, m: number): Float64Array => {
    const profile = profileOf(cameraIn(v), edgeIn(v, outward[m]!, m));
    const { x, level } = means[m]!;
    const off = new Float64Array(level.length);
    for (let i = 0; i < off.length; i++) off[i] = level[i]! - levelAt(profile, x[i]!);
    return off;
  };
  const sizeOf = (r: Float64Array) =>
    Math.max(leastMisfit, Math.sqrt(r.reduce((sum, value) => sum + value * value, 0) / r.length));
  let now = start;
  let here = means.map((_, m) => rest(now, m));
  let misfits = here.map(sizeOf);
  const costOf = (v: Float64Array, rests: readonly Float64Array[]): number => {
    let sum = 0;
    rests.forEach((r, m) => {
      for (const value of r) sum += (value / misfits[m]!) ** 2 / perDot;
    });
    for (const [at, middle, spread] of priors(v)) sum += ((v[at]! - middle) / spread) ** 2;
    return sum;
  };
  let damping = 1e-3;
  for (let round = 0; round < rounds; round++) {
    const a = new Float64Array(unknowns * unknowns);
    const b = new Float64Array(unknowns);
    means.forEach((_, m) => {
      gather(m, now, here[m]!, rest, 1 / misfits[m]! ** 2 / perDot, a, b);
    });
    for (const [at, middle, spread] of priors(now)) {
      a[at * (unknowns + 1)] = a[at * (unknowns + 1)]! + 1 / spread ** 2;
      b[at] = b[at]! - (now[at]! - middle) / spread ** 2;
    }
    const before = costOf(now, here);
    let better = false;
    for (let tries = 0; tries < 4 && !better; tries++) {
      const damped = a.slice();
      for (let i = 0; i < unknowns; i++)
        damped[i * (unknowns + 1)] = damped[i * (unknowns + 1)]! * (1 + damping) + 1e-9;
      const solved = solveNormal(damped, b);
      if (solved === null) return null;
      const next = withinReason(now.map((value, i) => value + solved.x[i]!));
      const there = means.map((_, m) => rest(next, m));
      if (costOf(next, there) <= before) {
        [now, here, better] = [next, there, true];
        damping = Math.max(1e-6, damping / 5);
      } else damping *= 8;
    }
    if (!better) break;
    misfits = here.map(sizeOf);
  }
  // As likelihood with spreads of their own: the smaller the misfits the better.
  const cost = here.reduce((sum, r, m) => sum + (2 * r.length * Math.log(misfits[m]!)) / perDot, costOf(now, here));
  return { values: now, misfits, cost };
}

function gather(
  m: number,
  now: Float64Array,
  here: Float64Array,
  rest: (v: Float64Array, m: number) => Float64Array,
  weight: number,
  a: Float64Array,
  b: Float64Array,
): void {
  const which = Array.from({ length: shared + own }, (_, k) => (k < shared ? k : own * m + k));
  const slopes = which.map((at) => {
    const moved = now.slice();
    moved[at] = moved[at]! + 1e-4;
    return rest(moved, m).map((r, i) => (here[i]! - r) / 1e-4);
  });
  which.forEach((p, i) => {
    const slope = slopes[i]!;
    let sum = 0;
    for (let k = 0; k < here.length; k++) sum += slope[k]! * here[k]!;
    b[p] = b[p]! + weight * sum;
    which.forEach((q, j) => {
      const other = slopes[j]!;
      let product = 0;
      for (let k = 0; k < here.length; k++) product += slope[k]! * other[k]!;
      a[p * now.length + q] = a[p * now.length + q]! + weight * product;
    });
  });
}

/** Which unknown, its middle and spread. */
function priors(v: Float64Array): (readonly [number, number, number])[] {
  const list: (readonly [number, number, number])[] = [
    [1, ...usualSharpened],
    [2, ...usualShadow],
    [3, 0, usualFall],
    [4, 0, usualFall],
  ];
  for (let at = shared; at < v.length; at += own) {
    list.push([at + 2, 0, insideSlopes * Math.max(0.02, v[at + 1]!)]);
    list.push([at + 4, 0, outsideSlopes * Math.max(0.02, v[at + 1]!)]);
  }
  return list;
}

function cameraIn(v: Float64Array): CameraModel {
  return { blur: v[0]!, sharpened: v[1]! };
}

function edgeIn(v: Float64Array, outward: Point, m: number): EdgeModel {
  const at = shared + own * m;
  return {
    place: v[at]!,
    inside: v[at + 1]!,
    insideSlope: v[at + 2]!,
    outside: v[at + 3]!,
    outsideSlope: v[at + 4]!,
    shadow: v[2]!,
    shadowWidth: Math.max(0, v[3]! * outward.x + v[4]! * outward.y),
  };
}

/** Kept to what can be: no shadow brightens, none is wider than what is looked at. */
function withinReason(v: Float64Array): Float64Array {
  const kept = v.slice();
  const keep = (at: number, low: number, high: number) => {
    kept[at] = Math.max(low, Math.min(high, kept[at]!));
  };
  keep(0, 0.2, 6);
  keep(1, -0.8, 2);
  keep(2, 0, 0.9);
  keep(3, -7, 7);
  keep(4, -7, 7);
  for (let at = shared; at < v.length; at += own) keep(at, -2, 2);
  return kept;
}
