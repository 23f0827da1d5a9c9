import type { Point } from '../../geometry/point';
import type { Chain } from './chain';
import { type Fitted, placeAmong } from './localFit';

/** A short stretch that leaves the edge and comes back to it: a notch, a pin, a blot. Indices from `from` on, round the end. */
export interface Excursion {
  readonly from: number;
  readonly to: number;
  /** How far it leads away from the edge, in the chain's unit. */
  readonly height: number;
  /** Distance between its ends. */
  readonly width: number;
}

/** radians. Both ends of an excursion, and the straight way between them, go the same way to within this. */
const sameWay = (10 * Math.PI) / 180;

/** mm. Edge on each side that tells where it was going. */
const sideLength = 10;

/** Corners of one excursion: a round tab shows as several. */
const mostCorners = 8;

/**
 * Stretches between two corners (indices, in order) no wider than `widest` says for their height, mm, where the edge goes on after as it came
 * before. A real corner never has that on both sides; a notch or a thing lying on the edge has.
 */
export function excursionsOf(
  chain: Chain,
  trust: Float64Array,
  corners: readonly number[],
  gap: number,
  spacing: number,
  widest: (height: number) => number,
): Excursion[] {
  const most = widest(0);
  const n = chain.xs.length;
  const side = Math.round(sideLength / spacing);
  const found: Excursion[] = [];
  for (let c = 0; c < corners.length; c++) {
    const from = (corners[c]! - gap + n) % n;
    const before = placeAmong(chain, trust, from, -side, 0, spacing);
    if (!before) continue;
    // The farthest corner first, so that all of a notch is taken at once.
    for (let more = Math.min(mostCorners, corners.length - 1); more >= 1; more--) {
      const last = corners[(c + more) % corners.length]!;
      const to = (last + gap) % n;
      const steps = (to - from + n) % n;
      if (steps * spacing > 4 * most || steps > n / 4) continue;
      const after = placeAmong(chain, trust, to, 0, side, spacing);
      if (!after) continue;
      const width = Math.hypot(after.x - before.x, after.y - before.y);
      if (width > most || !goesOn(before, after, width)) continue;
      const height = heightOf(chain, before, from, steps);
      if (width > widest(height)) continue;
      found.push({ from, to, width, height });
      c += more;
      break;
    }
  }
  return found;
}

function goesOn(before: Fitted, after: Fitted, width: number): boolean {
  const turn = (ax: number, ay: number, bx: number, by: number) =>
    Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
  const wx = after.x - before.x;
  const wy = after.y - before.y;
  return (
    width > 0 &&
    turn(before.tx, before.ty, after.tx, after.ty) < sameWay &&
    turn(before.tx, before.ty, wx, wy) < sameWay &&
    turn(wx, wy, after.tx, after.ty) < sameWay
  );
}

function heightOf(chain: Chain, before: Fitted, from: number, steps: number): number {
  const n = chain.xs.length;
  let height = 0;
  for (let k = 0; k <= steps; k++) {
    const j = (from + k) % n;
    height = Math.max(height, Math.abs(before.tx * (chain.ys[j]! - before.y) - before.ty * (chain.xs[j]! - before.x)));
  }
  return height;
}

/** The chain with the excursion replaced by a smooth curve (cubic) from where it leaves to where it comes back. */
export function bridge(
  chain: Chain,
  trust: Float64Array,
  excursion: Excursion,
  spacing: number,
  side = Math.round(sideLength / spacing),
): void {
  const n = chain.xs.length;
  const { from, to, width } = excursion;
  const a = placeAmong(chain, trust, from, -side, 0, spacing);
  const b = placeAmong(chain, trust, to, 0, side, spacing);
  if (!a || !b) return;
  const steps = (to - from + n) % n;
  cubicAcross(a, b, width, steps).forEach(({ x, y }, k) => {
    const j = (from + k) % n;
    chain.xs[j] = x;
    chain.ys[j] = y;
  });
}

/** Places at even steps along the cubic that goes on from one fitted place to another, `width` apart. */
export function cubicAcross(a: Fitted, b: Fitted, width: number, steps: number): Point[] {
  return Array.from({ length: steps + 1 }, (_, k) => {
    const t = k / Math.max(1, steps);
    const u = 1 - t;
    const h0 = u * u * (1 + 2 * t);
    const h1 = t * t * (1 + 2 * u);
    const g0 = u * u * t * width;
    const g1 = -t * t * u * width;
    return { x: h0 * a.x + h1 * b.x + g0 * a.tx + g1 * b.tx, y: h0 * a.y + h1 * b.y + g0 * a.ty + g1 * b.ty };
  });
}
