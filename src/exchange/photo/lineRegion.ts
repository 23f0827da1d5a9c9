import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { type Barrier, darkness, silenceUnseen } from './barrier';
import { quantile } from './chain';
import { smallestShare, tooSmall } from './edgeRegion';
import { findSeed, startsOf } from './findSeed';
import { floodBelow, floodFromMarkers, outside, undecided } from './flood';
import { borderOf, dotsOf, type Mask, partWith, withoutHoles, withoutThinParts } from './mask';
import { barriersAlong, markSeed, maskOf, type Region, whereabouts } from './region';
import { extreme } from './slidingExtreme';
import type { SmallPicture } from './smallPicture';

/** A line less dark than this against its paper (quarters of a coded level) is none. */
const faintest = 40;

/** mm. Gaps in the line up to this wide are bridged, and said so; a wider one is refused. */
const widestBridge = 6;

/** Ratio. A line this much fainter than usual still bounds the piece; far from a tilted camera lines grow thin. */
const barrierShares = [0.5, 0.35, 0.25];

/** Dots of the reduced picture by which a line with a gap is thickened to each side until it closes. */
const closings = [2, 4, 8, 16];

const noLine = fail(
  'no-line-found',
  'No closed dark line was found around this place. Click inside the drawn piece, away from marks, or draw its line darker.',
);

/**
 * The region enclosed by a drawn line around `seed`: everything that cannot be reached from the border of the picture
 * without crossing the line, inner lines and darts included. Gaps in the line up to 6 mm are bridged and told,
 * wider ones refused. `mmPerDot` is that of the reduced picture.
 */
export function lineRegion(
  small: SmallPicture,
  labels: Uint8Array,
  seed: number | null,
  lineReach: number,
  mmPerDot: number,
): Outcome<Region> {
  const { width, height } = small;
  const barrier = darkness(small, lineReach);
  silenceUnseen(barrier, small.seen, lineReach + 1);
  const fewest = smallestShare * width * height;
  const at = seed ?? findSeed(barrier, labels, fewest)?.at;
  if (at === undefined) return noLine;
  const flooded = Uint8Array.from(labels);
  markSeed(flooded, width, at, 2);
  floodFromMarkers(barrier, flooded);
  const divided = withoutHoles(partWith(maskOf(flooded, width, height), at));
  // Three quarters of the way: of a line with gaps that is still the line's.
  const depth = quantile(barriersAlong(barrier, borderOf(divided), 2), 0.75);
  if (depth < faintest) return noLine;

  for (const share of barrierShares) {
    const enclosed = enclosedBy(barrier, labels, at, Math.max(faintest / 2, share * depth), 0);
    if (!enclosed) continue;
    const mask = withoutHoles(partWith(withoutThinParts(enclosed, 2), at));
    return isLarge(mask, fewest) ? succeed({ mask, notes: [] }) : tooSmall;
  }
  // The line has a gap: it is thickened until it closes, and the region worn down again by as much.
  for (const reach of closings) {
    const enclosed = enclosedBy(barrier, labels, at, depth / 2, reach);
    if (!enclosed) continue;
    const mask = withoutHoles(partWith(enclosed, at));
    if (!isLarge(mask, fewest)) continue;
    const border = borderOf(mask);
    const gap = widestGap(barriersAlong(barrier, border, 4), depth / 4);
    const gapMm = Math.max(1, (gap.length + 4) * mmPerDot);
    const where = whereabouts(border[2 * gap.middle]!, border[2 * gap.middle + 1]!, width, height);
    if (gapMm <= widestBridge) {
      return succeed({ mask, notes: [`The line has a gap ${where}, which was bridged. Look at it there.`] });
    }
    return fail(
      'line-has-gap',
      `The line has a gap about ${Math.round(gapMm)} mm wide ${where}. Close it with the pen and take the picture again, or trace the piece by hand.`,
    );
  }
  return noLine;
}

function isLarge(mask: Mask, fewest: number): boolean {
  return dotsOf(mask) >= fewest;
}

/**
 * What the border of the picture cannot reach over barriers below `top`, when these are made `reach` dots thicker to
 * each side and what they enclose as much smaller; null when it reaches the seed.
 */
function enclosedBy(barrier: Barrier, labels: Uint8Array, seed: number, top: number, reach: number): Mask | null {
  const { width, height } = barrier;
  const walls = reach > 0 ? { width, height, data: new Uint16Array(thickened(barrier, reach)) } : barrier;
  const reached = new Uint8Array(labels.length);
  floodBelow(walls, reached, startsOf(labels), outside, top);
  if (reached[seed] !== undecided) return null;
  const data = new Float32Array(reached.length);
  for (let i = 0; i < data.length; i++) data[i] = reached[i] === outside || labels[i] === outside ? 0 : 1;
  return { width, height, data: new Uint8Array(extreme({ width, height, data }, reach, -1).data) };
}

function thickened({ width, height, data }: Barrier, reach: number): Float32Array {
  return extreme({ width, height, data: new Float32Array(data) }, reach, 1).data;
}

/** The longest run of low barriers round a closed border: steps of it, and its middle. */
function widestGap(along: Float64Array, top: number): { length: number; middle: number } {
  const n = along.length;
  let best = { length: 0, middle: 0 };
  let run = 0;
  for (let k = 0; k < 2 * n; k++) {
    run = along[k % n]! < top ? Math.min(n, run + 1) : 0;
    if (run > best.length) best = { length: run, middle: (k - (run >> 1)) % n };
  }
  return best;
}
