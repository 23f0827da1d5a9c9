import type { Chain } from './chain';
import { bridge, cubicAcross, type Excursion } from './excursions';
import { type Fitted, placeAmong } from './localFit';

/** A run of places, from `from` to `to` and both among them, round the end of a closed chain. */
export interface Run {
  readonly from: number;
  readonly to: number;
}

/** mm. Runs no farther apart than this are one. */
const joined = 3;

/** mm. The longest run that is bridged. */
const longestBridged = 45;

/** mm. Edge on each side that tells where it was going. */
const sideLength = 20;

/** mm. A bridge that lies this near to what was measured says nothing new. */
const worthBridging = 0.2;

/** radians. How well both ends of a bridge make one arc. */
const oneArc = (5 * Math.PI) / 180;

/** radians. A turn below this hides no corner: 14 degrees, less than a corner's. */
const noCorner = (14 * Math.PI) / 180;

/** mm. The tightest arc bridged by. */
const tightest = 30;

/** The runs of flagged places, each longer by `more` places on both sides; those less than `apart` places apart joined. */
export function runsOf(flags: Uint8Array, more: number, apart: number): Run[] {
  const n = flags.length;
  const wide = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    if (flags[i] === 1) for (let k = -more; k <= more; k++) wide[(i + k + n) % n] = 1;
  }
  const start = wide.indexOf(0);
  if (start < 0) return [{ from: 0, to: n - 1 }];
  const runs: { from: number; to: number }[] = [];
  for (let k = 0; k < n; k++) {
    const i = (start + k) % n;
    if (wide[i] === 0) continue;
    const last = runs.at(-1);
    if (last && (i - last.to + n) % n <= apart) last.to = i;
    else runs.push({ from: i, to: i });
  }
  return runs;
}

/**
 * Replaces short runs where the edge could not be told (trust below a half), and what was measured leaves the way, by the
 * arc that goes on from one side to the other. Works in place; answers the runs bridged. Where both sides do not make one
 * arc there may be a corner, and nothing is done.
 */
export function bridgeDoubtful(chain: Chain, trust: Float64Array, gap: number, spacing: number): Excursion[] {
  const n = chain.xs.length;
  const side = Math.round(sideLength / spacing);
  const flags = Uint8Array.from(trust, (t) => (t < 0.5 ? 1 : 0));
  const bridged: Excursion[] = [];
  for (const { from, to } of runsOf(flags, gap, Math.round(joined / spacing))) {
    const steps = (to - from + n) % n;
    if (steps * spacing > 2 * longestBridged || steps > n / 4) continue;
    const before = placeAmong(chain, trust, from, -side, 0, spacing);
    const after = placeAmong(chain, trust, to, 0, side, spacing);
    if (!before || !after) continue;
    const width = Math.hypot(after.x - before.x, after.y - before.y);
    const turn = turnOfArc(before, after, width);
    if (width > longestBridged || turn === null) continue;
    const wanted = { xs: Float64Array.from(chain.xs), ys: Float64Array.from(chain.ys) };
    bridge(wanted, trust, { from, to, width, height: 0 }, spacing, side);
    let height = 0;
    for (let k = 0; k <= steps; k++) {
      const i = (from + k) % n;
      height = Math.max(height, Math.hypot(wanted.xs[i]! - chain.xs[i]!, wanted.ys[i]! - chain.ys[i]!));
    }
    if (height < worthBridging) continue;
    // A corner stands out from the arc by an eighth of width times turn; only what stays well below that is bridged.
    if (turn > noCorner && height > (width * turn) / 16) continue;
    for (let k = 0; k <= steps; k++) {
      const i = (from + k) % n;
      chain.xs[i] = wanted.xs[i]!;
      chain.ys[i] = wanted.ys[i]!;
      trust[i] = Math.max(trust[i]!, 0.4);
    }
    bridged.push({ from, to, width, height });
  }
  return bridged;
}

/** mm. Edge on each side of a run that is long enough to tell where it goes on. */
const shortestSide = 8;

/** mm. One side alone is carried on no farther. */
const farthestCarried = 15;

/** mm. A run that lies this near to the arc of both sides is where it seems to be. */
const agreed = 0.3;

/**
 * The flags without the short runs that both sides bear out: fitted without the flagged places, they make one arc, and all
 * of the run lies on it. A run that reaches a corner, one of `known` place, is divided there; its part is borne out where
 * the one side, carried on, keeps to it as far as the corner. `corners` and `known` are indices of places.
 */
export function unproved(
  flags: Uint8Array,
  chain: Chain,
  corners: readonly number[],
  known: readonly number[],
  spacing: number,
): Uint8Array {
  const n = flags.length;
  const left = Uint8Array.from(flags);
  const trust = Float64Array.from(flags, (flag) => 1 - flag);
  const steps = (from: number, to: number) => (to - from + n) % n;
  const least = Math.round(shortestSide / spacing);
  const most = Math.round(sideLength / spacing);
  const clear = (from: number, to: number) => {
    for (let k = 0; k <= steps(from, to); k++) left[(from + k) % n] = 0;
  };
  for (const { from, to } of runsOf(flags, 1, Math.round(joined / spacing))) {
    const length = steps(from, to);
    if (length * spacing > 2 * longestBridged || length > n / 4) continue;
    const backTo = Math.min(n, ...corners.map((corner) => steps(corner, from)));
    const aheadTo = Math.min(n, ...corners.map((corner) => steps(to, corner)));
    const inside = corners.filter((corner) => steps(from, corner) <= length);
    // Of a run with a corner in it, or just beside it, each part is held against the side it goes on from.
    const corner = inside[0] ?? (backTo < least ? (from - backTo + n) % n : (to + aheadTo) % n);
    const both = inside.length === 0 && Math.min(backTo, aheadTo) >= least;
    if (both) {
      const before = placeAmong(chain, trust, from, -Math.min(most, backTo), 0, spacing);
      const after = placeAmong(chain, trust, to, 0, Math.min(most, aheadTo), spacing);
      if (before && after && isOnArc(chain, before, after, from, length)) clear(from, to);
    } else if (inside.length < 2 && known.includes(corner)) {
      const before = inside.length === 1 || aheadTo < least;
      if (before && backTo >= least && isCarriedOn(chain, trust, from, corner, -Math.min(most, backTo), spacing)) {
        clear(from, inside.length === 1 ? corner : to);
      }
      const after = inside.length === 1 || backTo < least;
      if (after && aheadTo >= least && isCarriedOn(chain, trust, to, corner, Math.min(most, aheadTo), spacing)) {
        clear(inside.length === 1 ? corner : from, to);
      }
    }
  }
  return left;
}

function isOnArc(chain: Chain, before: Fitted, after: Fitted, from: number, length: number): boolean {
  const n = chain.xs.length;
  const width = Math.hypot(after.x - before.x, after.y - before.y);
  if (width > longestBridged || turnOfArc(before, after, width) === null) return false;
  return cubicAcross(before, after, width, length).every(({ x, y }, k) => {
    const i = (from + k) % n;
    return Math.hypot(x - chain.xs[i]!, y - chain.ys[i]!) < agreed;
  });
}

/** Whether the edge from place `at` to the corner lies on its side (so many places, back or ahead), carried on. */
function isCarriedOn(
  chain: Chain,
  trust: Float64Array,
  at: number,
  corner: number,
  side: number,
  spacing: number,
): boolean {
  const n = chain.xs.length;
  const way = side < 0 ? 1 : -1;
  const length = (way * (corner - at) + n) % n;
  if (length * spacing > farthestCarried) return false;
  for (let k = 0; k <= length; k++) {
    const i = (at + way * k + n) % n;
    const [low, high] = side < 0 ? [side - k, -k] : [k, side + k];
    const there = placeAmong(chain, trust, i, low, high, spacing);
    if (!there || Math.abs(there.residual) > agreed) return false;
  }
  return true;
}

/** The turn over the arc from one side to the other, radians; null where they make none. */
export function turnOfArc(before: Fitted, after: Fitted, width: number): number | null {
  const turn = (ax: number, ay: number, bx: number, by: number) => Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  const wx = after.x - before.x;
  const wy = after.y - before.y;
  const first = turn(before.tx, before.ty, wx, wy);
  const second = turn(wx, wy, after.tx, after.ty);
  const whole = Math.abs(first + second);
  return width > 0 && Math.abs(first - second) < oneArc && whole < Math.max(oneArc, width / tightest) ? whole : null;
}
