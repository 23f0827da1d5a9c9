import { type Barrier, levels } from './barrier';

export const undecided = 0;
export const inside = 1;
export const outside = 2;

/**
 * Every dot is given to the marker from which it is reached over the lower barriers (watershed by flooding from markers,
 * F. Meyer 1991, from memory); so the two meet along the highest ridge between them, however uneven the ground is
 * elsewhere. Works in place: `labels` holds the markers on entry, and no undecided dot on leaving if there was a marker.
 */
export function floodFromMarkers(barrier: Barrier, labels: Uint8Array): void {
  const { width, height, data } = barrier;
  const count = width * height;
  // One queue per level, first in first out, linked through `next`.
  const next = new Int32Array(count).fill(-1);
  const heads = new Int32Array(levels).fill(-1);
  const tails = new Int32Array(levels).fill(-1);
  const push = (i: number, level: number) => {
    if (tails[level]! < 0) heads[level] = i;
    else next[tails[level]!] = i;
    tails[level] = i;
  };
  for (let i = 0; i < count; i++) {
    if (labels[i] === undecided) continue;
    const x = i % width;
    const inner =
      (x === 0 || labels[i - 1] !== undecided) &&
      (x === width - 1 || labels[i + 1] !== undecided) &&
      (i < width || labels[i - width] !== undecided) &&
      (i >= count - width || labels[i + width] !== undecided);
    if (!inner) push(i, 0);
  }
  for (let level = 0; level < levels; level++) {
    for (let i = heads[level]!; i >= 0; i = heads[level]!) {
      heads[level] = next[i]!;
      if (next[i]! < 0) tails[level] = -1;
      const label = labels[i]!;
      const x = i % width;
      for (let side = 0; side < 4; side++) {
        let j: number;
        if (side === 0) {
          if (x === 0) continue;
          j = i - 1;
        } else if (side === 1) {
          if (x === width - 1) continue;
          j = i + 1;
        } else if (side === 2) {
          if (i < width) continue;
          j = i - width;
        } else {
          if (i >= count - width) continue;
          j = i + width;
        }
        if (labels[j] !== undecided) continue;
        labels[j] = label;
        push(j, Math.max(level, data[j]!));
      }
    }
  }
}

/**
 * Gives `label` to all undecided dots reached from the seeds without crossing a dot of `top` or more, and answers how
 * many. The queue may be handed in to be used again; it has room for every dot.
 */
export function floodBelow(
  barrier: Barrier,
  labels: Uint8Array,
  seeds: readonly number[],
  label: number,
  top: number,
  queue: Int32Array = new Int32Array(labels.length),
): number {
  const { width, height, data } = barrier;
  const count = width * height;
  let end = 0;
  const take = (i: number) => {
    if (labels[i] !== undecided || data[i]! >= top) return;
    labels[i] = label;
    queue[end++] = i;
  };
  for (const seed of seeds) take(seed);
  for (let at = 0; at < end; at++) {
    const i = queue[at]!;
    const x = i % width;
    if (x > 0) take(i - 1);
    if (x < width - 1) take(i + 1);
    if (i >= width) take(i - width);
    if (i < count - width) take(i + width);
  }
  return end;
}
