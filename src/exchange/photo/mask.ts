import { extreme } from './slidingExtreme';

/** 1 inside, 0 outside, rows from the top. */
export interface Mask {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** The part of the mask that is joined to `seed` by sides of dots; all 0 when the seed is outside. */
export function partWith(mask: Mask, seed: number): Mask {
  const data = new Uint8Array(mask.data.length);
  spread(mask.width, mask.data, [seed], 1, data);
  return { ...mask, data };
}

/** The mask with everything filled that cannot be reached from the border of the picture. */
export function withoutHoles(mask: Mask): Mask {
  const { width, height, data } = mask;
  const border: number[] = [];
  for (let x = 0; x < width; x++) border.push(x, (height - 1) * width + x);
  for (let y = 0; y < height; y++) border.push(y * width, y * width + width - 1);
  const reached = new Uint8Array(data.length);
  spread(width, data, border, 0, reached);
  return { width, height, data: reached.map((r) => 1 - r) };
}

/** The mask without parts narrower than about 2 reach + 1 dots, its corners kept (worn down, grown again, within itself). */
export function withoutThinParts(mask: Mask, reach: number): Mask {
  const { width, height } = mask;
  const plane = { width, height, data: new Float32Array(mask.data) };
  const opened = extreme(extreme(plane, reach, -1), reach, 1);
  return { width, height, data: new Uint8Array(opened.data) };
}

export function dotsOf({ data }: Mask): number {
  let dots = 0;
  for (let i = 0; i < data.length; i++) dots += data[i]!;
  return dots;
}

function spread(width: number, data: Uint8Array, seeds: readonly number[], value: number, reached: Uint8Array): void {
  const count = data.length;
  const queue = new Int32Array(count);
  let end = 0;
  const take = (i: number) => {
    if (reached[i] === 1 || data[i] !== value) return;
    reached[i] = 1;
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
}

/**
 * The outer border of a mask without holes that is one part: corners of dots, clockwise on screen (inside at the right
 * hand), a step along a dot's side each. Empty for an empty mask. Where two dots touch only by a corner they count as
 * apart.
 */
export function borderOf(mask: Mask): Int32Array {
  const { width, height, data } = mask;
  const first = data.indexOf(1);
  if (first < 0) return new Int32Array(0);
  const isIn = (x: number, y: number) => x >= 0 && y >= 0 && x < width && y < height && data[y * width + x] === 1;
  const startX = first % width;
  const startY = Math.floor(first / width);
  const places: number[] = [];
  // Directions: 0 right, 1 down, 2 left, 3 up. Begin along the upper side of the first dot.
  const dx = [1, 0, -1, 0];
  const dy = [0, 1, 0, -1];
  let x = startX;
  let y = startY;
  let heading = 0;
  do {
    places.push(x, y);
    x += dx[heading]!;
    y += dy[heading]!;
    // The two dots ahead, at the right and the left hand of the corner reached.
    const right = [isIn(x, y), isIn(x - 1, y), isIn(x - 1, y - 1), isIn(x, y - 1)][heading]!;
    const left = [isIn(x, y - 1), isIn(x, y), isIn(x - 1, y), isIn(x - 1, y - 1)][heading]!;
    if (!right) heading = (heading + 1) % 4;
    else if (left) heading = (heading + 3) % 4;
  } while (x !== startX || y !== startY || heading !== 0);
  return Int32Array.from(places);
}
