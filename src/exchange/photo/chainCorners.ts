import { angleBetween, distance, type Point, scale } from '../../geometry/point';
import { crossing, pointOn } from '../oneSided';
import type { Chain } from './chain';
import { cornerSide } from './cornerSide';
import { placeAmong } from './localFit';

/** radians. Sharper turns are corners and are not averaged across: 15 degrees, below the 20 at which corners are offered. */
const cornerTurn = Math.PI / 12;

/** radians. From this turn on it is plain along the edge where two sides meet: 40 degrees. */
const plainTurn = (2 * Math.PI) / 9;

/** mm. A blunt corner whose place is known no better than this (one standard deviation) is none. */
const knownAtAll = 1;

/** Indices of places where the directions of both sides, fitted beyond `gap` places, differ by a corner's turn; the sharpest of each `side`. */
export function cornersOf(chain: Chain, trust: Float64Array, gap: number, side: number, spacing: number): number[] {
  const n = chain.xs.length;
  if (n < 4 * (gap + side)) return [];
  const weights = slopeWeights(side);
  const turns = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let ax = 0;
    let ay = 0;
    let bx = 0;
    let by = 0;
    for (let k = 0; k < side; k++) {
      const w = weights[k]!;
      const ahead = (i + gap + k) % n;
      const behind = (i - gap - k + n) % n;
      ax += w * chain.xs[ahead]!;
      ay += w * chain.ys[ahead]!;
      bx -= w * chain.xs[behind]!;
      by -= w * chain.ys[behind]!;
    }
    turns[i] = Math.abs(Math.atan2(bx * ay - by * ax, bx * ax + by * ay));
  }
  const ranked = Array.from({ length: n }, (_, i) => i)
    .filter((i) => turns[i]! >= cornerTurn && turns[i]! >= turns[(i + 1) % n]! && turns[i]! >= turns[(i + n - 1) % n]!)
    .sort((a, b) => turns[b]! - turns[a]!);
  const kept: number[] = [];
  for (const i of ranked) {
    const near = kept.some((j) => Math.min(Math.abs(i - j), n - Math.abs(i - j)) < side / 2 + gap);
    if (!near) kept.push(i);
  }
  kept.sort((a, b) => a - b);
  return kept.filter((corner, c) => {
    const room = (other: number) => (kept.length > 1 ? (other + n) % n || n : n);
    const back = Math.min(2 * side, room(corner - kept.at(c - 1)!) - gap);
    const ahead = Math.min(2 * side, room(kept[(c + 1) % kept.length]! - corner) - gap);
    if (Math.min(back, ahead) < side / 2) return true;
    // A slip of the measuring over a few mm is no corner: strays left out, both sides go the same way.
    const before = placeAmong(chain, trust, (corner - gap + n) % n, -back, 0, spacing);
    const after = placeAmong(chain, trust, (corner + gap) % n, 0, ahead, spacing);
    if (!before || !after) return true;
    const cross = before.tx * after.ty - before.ty * after.tx;
    return Math.abs(Math.atan2(cross, before.tx * after.tx + before.ty * after.ty)) >= cornerTurn;
  });
}

/** Weights that give, from `side` places in a row, the slope at the first of their least-squares parabola. */
function slopeWeights(side: number): Float64Array {
  const s = [0, 0, 0, 0, 0];
  for (let k = 0; k < side; k++) for (let p = 0; p < 5; p++) s[p]! += k ** p;
  const [s0, s1, s2, s3, s4] = s as [number, number, number, number, number];
  const determinant = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2);
  return Float64Array.from(
    { length: side },
    (_, k) => (-(s1 * s4 - s2 * s3) + (s0 * s4 - s2 * s2) * k - (s0 * s3 - s1 * s2) * k * k) / determinant,
  );
}

/** What the errors of the places beside a corner are like. */
export interface SideErrors {
  /** 0 leaves a place out, 1 takes it in full. */
  readonly trust: Float64Array;
  /** Neighbours in a row that share their error: they saw the same dots. */
  readonly shared: number;
  /** mm. Places are not truer than this. */
  readonly floor: number;
}

/** The place where both sides of a corner, carried on from `gap` places away, meet, and how far along them; null where they do not. */
function tipOf(
  chain: Chain,
  corners: readonly number[],
  c: number,
  corner: number,
  gap: number,
  { trust, shared, floor }: SideErrors,
) {
  const n = chain.xs.length;
  const index = (i: number) => ((i % n) + n) % n;
  const at = (i: number): Point => ({ x: chain.xs[index(i)]!, y: chain.ys[index(i)]! });
  const room = (other: number) => {
    const apart = Math.abs(other - corner);
    return corners.length > 1 ? Math.min(apart, n - apart) : n;
  };
  const run = (sign: 1 | -1, other: number) => {
    const points: Point[] = [];
    const weights: number[] = [];
    const last = Math.min(room(other) - gap, Math.floor(n / 3));
    for (let k = gap; k <= last && points.length < 200; k++) {
      points.push(at(corner + sign * k));
      weights.push(trust[index(corner + sign * k)]!);
    }
    return cornerSide(points, weights, shared, floor);
  };
  const incoming = run(-1, corners[(c + corners.length - 1) % corners.length]!);
  const outgoing = run(1, corners[(c + 1) % corners.length]!);
  const meeting = incoming && outgoing ? crossing(incoming, outgoing) : null;
  if (!incoming || !outgoing || !meeting) return null;
  const tip = pointOn(incoming, meeting.ua);
  const blurred = distance(at(corner + gap), at(corner));
  const turn = Math.abs(Math.sin(angleBetween(incoming.slope, outgoing.slope)));
  const spread = Math.hypot(incoming.spreadAt(meeting.ua), outgoing.spreadAt(meeting.ub)) / Math.max(0.2, turn);
  // Blur rounds a blunt corner off by little: sides that meet far from it only run beside each other.
  const farthest = (turn < Math.sin(plainTurn) ? 0.5 : 3) * blurred;
  return distance(tip, at(corner)) <= farthest ? { tip, incoming, outgoing, spread, ...meeting } : null;
}

/**
 * Each corner's index moved to the measured place nearest to where its sides meet. Blunt corners whose sides do not meet
 * near them, or who knows where, are slips of the measuring and left out.
 */
export function settledCorners(chain: Chain, corners: readonly number[], gap: number, errors: SideErrors): number[] {
  const n = chain.xs.length;
  return corners.flatMap((corner, c) => {
    const met = tipOf(chain, corners, c, corner, gap, errors);
    if (!(met && met.spread < knownAtAll)) return isBlunt(chain, corner, gap) ? [] : [corner];
    const { tip, incoming, outgoing } = met;
    // Sides that run nearly on meet anywhere along each other.
    if (Math.abs(angleBetween(scale(incoming.slope, -1), outgoing.slope)) < plainTurn) return [corner];
    let best = corner;
    let nearest = Number.POSITIVE_INFINITY;
    for (let k = -2 * gap; k <= 2 * gap; k++) {
      const i = (corner + k + n) % n;
      const off = distance(tip, { x: chain.xs[i]!, y: chain.ys[i]! });
      if (off < nearest) {
        nearest = off;
        best = i;
      }
    }
    return [best];
  });
}

/** Whether the ways to and from the places around a corner turn by less than is plain along the edge. */
function isBlunt({ xs, ys }: Chain, corner: number, gap: number): boolean {
  const n = xs.length;
  const at = (k: number) => (((corner + k) % n) + n) % n;
  const way = (a: number, b: number): Point => ({ x: xs[b]! - xs[a]!, y: ys[b]! - ys[a]! });
  const before = way(at(-5 * gap), at(-gap));
  const after = way(at(gap), at(5 * gap));
  return Math.abs(angleBetween(before, after)) < plainTurn;
}

/**
 * Puts each corner where both sides, carried on from `gap` places away, meet, and the places between onto the sides. The
 * sides are fitted to the places as measured: their scatter tells whether a side is bent or straight. With it, how well
 * each corner's place is known, mm (one standard deviation); infinite where the sides do not meet.
 */
export function withCorners(
  chain: Chain,
  measured: Chain,
  corners: readonly number[],
  gap: number,
  errors: SideErrors,
): { readonly chain: Chain; readonly spreads: readonly number[] } {
  const n = chain.xs.length;
  const xs = Float64Array.from(chain.xs);
  const ys = Float64Array.from(chain.ys);
  const spreads = corners.map((corner, c) => {
    const met = tipOf(measured, corners, c, corner, gap, errors);
    if (!met) return Number.POSITIVE_INFINITY;
    if (met.ua > 0 || met.ub > 0) return met.spread;
    for (let k = 0; k < gap; k++) {
      const t = 1 - k / gap;
      for (const [sign, side, u] of [
        [-1, met.incoming, met.ua],
        [1, met.outgoing, met.ub],
      ] as const) {
        const p = pointOn(side, u * t);
        const j = (((corner + sign * k) % n) + n) % n;
        xs[j] = p.x;
        ys[j] = p.y;
      }
    }
    return met.spread;
  });
  return { chain: { xs, ys }, spreads };
}
