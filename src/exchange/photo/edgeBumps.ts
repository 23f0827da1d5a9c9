import type { Point } from '../../geometry/point';
import type { Chain } from './chain';
import { turnOfArc } from './doubtfulRuns';
import { cubicAcross } from './excursions';
import { placeAmong } from './localFit';

/**
 * mm. Widths of bumps looked for, and how high one is told: a spot or thing lying across the edge, whose colour was taken
 * for the piece's or the table's. Over a long way an edge that begins to curve leaves the arc by half a mm itself.
 */
const bumps = [
  { wide: 10, told: 0.6 },
  { wide: 20, told: 0.6 },
  { wide: 36, told: 1.2 },
  { wide: 60, told: 2 },
  { wide: 90, told: 3 },
] as const;

/** mm. Edge on each side that tells where it goes on: so much, or as far as the next corner if that is not too near. */
const sideLength = 14;
const shortestSide = 8;

/** mm between the places where bumps are looked for. */
const every = 2;

/** radians. Only where the edge turns by less from one side to the other: a tight curve leaves its arc by itself. */
const straight = 0.07;

/** A bump stands out by this many times the scatter of the measured places about this same edge. */
const overNoise = 8;

/**
 * 1 where the outline (mm) leaves the one arc that the edge before and after makes, and comes back to it. `corners` are
 * indices of places: no side reaches past one. `noise` is the scatter of the places measured, mm.
 */
export function bumpsOf(chain: Chain, corners: readonly number[], noise: number, spacing: number): Uint8Array {
  const n = chain.xs.length;
  const trust = new Float64Array(n).fill(1);
  const flags = new Uint8Array(n);
  const most = Math.round(sideLength / spacing);
  const least = Math.round(shortestSide / spacing);
  const stride = Math.max(1, Math.round(every / spacing));
  const upTo = (at: number, way: 1 | -1) => Math.min(most, ...corners.map((corner) => (way * (corner - at) + n) % n));
  for (const { wide, told } of bumps) {
    const steps = Math.round(wide / spacing);
    const high = Math.max(told, overNoise * noise);
    if (steps + 2 * most > n / 2) continue;
    for (let from = 0; from < n; from += stride) {
      const to = (from + steps) % n;
      const back = upTo(from, -1);
      const ahead = upTo(to, 1);
      if (Math.min(back, ahead) < least) continue;
      const before = placeAmong(chain, trust, from, -back, 0, spacing);
      const after = before && placeAmong(chain, trust, to, 0, ahead, spacing);
      if (!before || !after) continue;
      const width = Math.hypot(after.x - before.x, after.y - before.y);
      const turn = turnOfArc(before, after, width);
      if (turn === null || turn > straight) continue;
      if (leavesBy(chain, from, cubicAcross(before, after, width, steps)) <= high) continue;
      for (let k = 0; k <= steps; k++) flags[(from + k) % n] = 1;
    }
  }
  return flags;
}

/** mm: how far the outline from place `from` on lies across this way, at most. Places need not be spaced as on the way. */
function leavesBy({ xs, ys }: Chain, from: number, way: readonly Point[]): number {
  const n = xs.length;
  return Math.max(
    ...way.map(({ x, y }, k) => {
      const a = way[Math.max(0, k - 1)]!;
      const b = way[Math.min(way.length - 1, k + 1)]!;
      const i = (from + k) % n;
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      return Math.abs((b.x - a.x) * (ys[i]! - y) - (b.y - a.y) * (xs[i]! - x)) / length;
    }),
  );
}
