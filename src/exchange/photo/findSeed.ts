import type { Barrier } from './barrier';
import { floodBelow, inside, outside, undecided } from './flood';

/** A place deep inside a region, and the number of dots of the region. */
export interface Seed {
  readonly at: number;
  readonly dots: number;
}

/** Barriers tried, from smooth paper to the strongest edges. */
const tops = [14, 26, 48, 90];

/**
 * The middle of the largest region that low barriers do not join to what is already decided (the border of the picture,
 * sheets to leave out), or null. A piece seen whole is such a region for some height of barrier; which one is tried.
 */
export function findSeed(barrier: Barrier, decided: Uint8Array, fewestDots: number): Seed | null {
  let best: Seed | null = null;
  const starts = startsOf(decided);
  for (const top of tops) {
    const labels = Uint8Array.from(decided);
    for (const i of starts) labels[i] = undecided;
    floodFrom(barrier, labels, starts, top);
    const found = largestRegion(barrier, labels, top);
    if (found && found.dots >= fewestDots && found.dots > (best?.dots ?? 0)) best = found;
  }
  return best;
}

/** All dots that are outside for certain. */
export function startsOf(labels: Uint8Array): number[] {
  const starts: number[] = [];
  for (let i = 0; i < labels.length; i++) if (labels[i] === outside) starts.push(i);
  return starts;
}

function floodFrom(barrier: Barrier, labels: Uint8Array, starts: readonly number[], top: number): void {
  floodBelow(barrier, labels, starts, outside, top);
  for (const i of starts) labels[i] = outside;
}

function largestRegion(barrier: Barrier, labels: Uint8Array, top: number): Seed | null {
  let best: { first: number; dots: number } | null = null;
  const taken = Uint8Array.from(labels);
  const queue = new Int32Array(taken.length);
  for (let i = 0; i < taken.length; i++) {
    if (taken[i] !== undecided || barrier.data[i]! >= top) continue;
    const dots = floodBelow(barrier, taken, [i], inside, top, queue);
    if (dots > (best?.dots ?? 0)) best = { first: i, dots };
  }
  if (!best) return null;
  const region = Uint8Array.from(labels);
  floodBelow(barrier, region, [best.first], inside, top);
  return { at: deepest(region, barrier.width, barrier.height), dots: best.dots };
}

/** The dot inside that is farthest from any other (two passes, steps along sides). */
function deepest(region: Uint8Array, width: number, height: number): number {
  const depth = new Uint16Array(region.length);
  let best = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      if (region[i] === inside) depth[i] = 1 + Math.min(depth[i - 1]!, depth[i - width]!);
    }
  }
  for (let y = height - 2; y > 0; y--) {
    for (let x = width - 2; x > 0; x--) {
      const i = y * width + x;
      if (region[i] === inside) depth[i] = Math.min(depth[i]!, 1 + Math.min(depth[i + 1]!, depth[i + width]!));
      if (depth[i]! > depth[best]!) best = i;
    }
  }
  return best;
}
