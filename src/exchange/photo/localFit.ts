import { type Chain, medianInPlace } from './chain';

export interface Fitted {
  readonly x: number;
  readonly y: number;
  /** Unit direction of travel there. */
  readonly tx: number;
  readonly ty: number;
  /** How far the measured place lies to the side, in the chain's unit. */
  readonly residual: number;
  /** Whether that is too far to be an error of measuring. */
  readonly strayed: boolean;
}

/** Places not trusted still count by the square of this: a parabola carried on far from all others would count for more. */
const leastTrust = 0.1;

/**
 * The place at index `at` on the parabola through places at + low to at + high, in the frame of their chord; strays are
 * weighed down in three rounds (Tukey's biweight, from memory). `trust` 0 leaves a place out, 1 takes it in full.
 * `at` itself need not be among them. Null where they do not decide a parabola.
 */
export function placeAmong(
  chain: Chain,
  trust: Float64Array,
  at: number,
  low: number,
  high: number,
  spacing: number,
): Fitted | null {
  const n = chain.xs.length;
  if (high - low < 4) return null;
  const index = (k: number) => (((at + k) % n) + n) % n;
  const a = index(low);
  const b = index(high);
  const length = Math.hypot(chain.xs[b]! - chain.xs[a]!, chain.ys[b]! - chain.ys[a]!);
  if (!(length > 0)) return null;
  const tx = (chain.xs[b]! - chain.xs[a]!) / length;
  const ty = (chain.ys[b]! - chain.ys[a]!) / length;
  const ox = chain.xs[at]!;
  const oy = chain.ys[at]!;
  const count = high - low + 1;
  const { us, vs, weights, off, sorted, robust } = roomFor(count);
  const reach = Math.max(-low, high) + 1;
  for (let k = low; k <= high; k++) {
    const j = index(k);
    const dx = chain.xs[j]! - ox;
    const dy = chain.ys[j]! - oy;
    us[k - low] = dx * tx + dy * ty;
    vs[k - low] = dy * tx - dx * ty;
    // Neighbours far along count less, which keeps bends; distrusted ones hardly at all.
    weights[k - low] = (1 - (k / reach) ** 2) * Math.max(leastTrust, Math.min(1, trust[j]!)) ** 2;
  }
  let fit = parabolaThrough(us, vs, weights, count);
  if (!fit) return null;
  let scale = 0;
  for (let round = 0; round < 3; round++) {
    const [c0, c1, c2] = fit;
    for (let k = 0; k < count; k++) {
      const u = us[k]!;
      off[k] = Math.abs(vs[k]! - c0 - (c1 + c2 * u) * u);
      sorted[k] = off[k]!;
    }
    scale = Math.max(6 * medianInPlace(sorted, count), 0.02 * spacing);
    for (let k = 0; k < count; k++) {
      const r = off[k]! / scale;
      robust[k] = r < 1 ? weights[k]! * (1 - r * r) ** 2 : 0;
    }
    const next = parabolaThrough(us, vs, robust, count);
    if (!next) break;
    fit = next;
  }
  // At u = 0, along the chord, lies the measured place; it is moved across the chord only.
  const across = fit[0];
  const slope = Math.hypot(1, fit[1]);
  return {
    x: ox - ty * across,
    y: oy + tx * across,
    tx: (tx - ty * fit[1]) / slope,
    ty: (ty + tx * fit[1]) / slope,
    residual: across,
    strayed: Math.abs(across) > scale,
  };
}

/** Scratch room, used again by every fit: thousands of them follow each other. */
function roomFor(count: number): typeof room {
  if (room.us.length < count) room = emptyRoom(2 * count);
  return room;
}

let room = emptyRoom(64);

function emptyRoom(size: number) {
  const array = () => new Float64Array(size);
  return { us: array(), vs: array(), weights: array(), off: array(), sorted: array(), robust: array() };
}

/** Coefficients of v = c0 + c1 u + c2 u^2 by weighted least squares, or null where the places do not decide them. */
function parabolaThrough(
  us: Float64Array,
  vs: Float64Array,
  ws: Float64Array,
  count: number,
): [number, number, number] | null {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let b0 = 0;
  let b1 = 0;
  let b2 = 0;
  for (let k = 0; k < count; k++) {
    const u = us[k]!;
    const w = ws[k]!;
    const wu = w * u;
    const wuu = wu * u;
    s0 += w;
    s1 += wu;
    s2 += wuu;
    s3 += wuu * u;
    s4 += wuu * u * u;
    b0 += w * vs[k]!;
    b1 += wu * vs[k]!;
    b2 += wuu * vs[k]!;
  }
  const c00 = s2 * s4 - s3 * s3;
  const c01 = s1 * s4 - s2 * s3;
  const c02 = s1 * s3 - s2 * s2;
  const determinant = s0 * c00 - s1 * c01 + s2 * c02;
  if (!(Math.abs(determinant) > 1e-12 * s0 * s2 * s4)) return null;
  return [
    (c00 * b0 - c01 * b1 + c02 * b2) / determinant,
    (-c01 * b0 + (s0 * s4 - s2 * s2) * b1 - (s0 * s3 - s1 * s2) * b2) / determinant,
    (c02 * b0 - (s0 * s3 - s1 * s2) * b1 + (s0 * s2 - s1 * s1) * b2) / determinant,
  ];
}
