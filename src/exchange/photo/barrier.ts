import { extreme, fillDark, type Plane } from './slidingExtreme';
import type { SmallPicture } from './smallPicture';
import { brightness } from './tones';

/** How hard it is to cross each dot on the way from the piece to the table; whole numbers below `levels`. */
export interface Barrier {
  readonly width: number;
  readonly height: number;
  readonly data: Uint16Array;
}

export const levels = 1024;

/** Steepness of colour, all channels together: the Sobel sums, of which a step between two dots gives four times its height, times 0.6. */
export function steepness(small: SmallPicture): Barrier {
  const { width, height } = small;
  const squares = new Float32Array(width * height);
  for (const channel of small.channels) addSquaredSlopes(channel, width, height, squares);
  return { width, height, data: rooted(squares, 0.6) };
}

/** Dots. A line of the table's pattern whose colour is like the piece's is no part of it when narrower than 2 of this + 1. */
const patternReach = 2;

/**
 * Steepness of how far the colour is from the piece's. All that is farther than `cap` counts alike, so that the table's
 * own pattern has no steps; light lines of the pattern are filled; and dark strips narrower than 2 lineReach + 1 dots are left out, so that a seam line drawn on the
 * piece has none either.
 */
export function steepnessAway(away: Plane, cap: number, lineReach: number): Barrier {
  const { width, height } = away;
  const capped = { width, height, data: away.data.map((d) => Math.min(d, cap)) };
  const filled = extreme(extreme(capped, patternReach, 1), patternReach, -1);
  const clean = extreme(extreme(filled, lineReach, -1), lineReach, 1);
  const squares = new Float32Array(width * height);
  addSquaredSlopes(clean.data, width, height, squares);
  return { width, height, data: rooted(squares, 200 / cap) };
}

function addSquaredSlopes(data: Float32Array, width: number, height: number, squares: Float32Array): void {
  for (let y = 1; y < height - 1; y++) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      const a = data[i - width - 1]!;
      const b = data[i - width + 1]!;
      const c = data[i + width - 1]!;
      const d = data[i + width + 1]!;
      const gx = b - a + d - c + 2 * (data[i + 1]! - data[i - 1]!);
      const gy = c - a + d - b + 2 * (data[i + width]! - data[i - width]!);
      squares[i] = squares[i]! + gx * gx + gy * gy;
    }
  }
}

function rooted(squares: Float32Array, factor: number): Uint16Array {
  const data = new Uint16Array(squares.length);
  for (let i = 0; i < data.length; i++) data[i] = Math.min(levels - 1, Math.sqrt(squares[i]!) * factor);
  return data;
}

/** How much darker each dot is than the paper around it, where that is darker over less than `lineReach` on each side. */
export function darkness(small: SmallPicture, lineReach: number): Barrier {
  const { width, height } = small;
  const grey = greyOf(small);
  const filled = fillDark(grey, lineReach).data;
  const data = new Uint16Array(width * height);
  for (let i = 0; i < data.length; i++) data[i] = Math.min(levels - 1, Math.max(0, 4 * (filled[i]! - grey.data[i]!)));
  return { width, height, data };
}

export function greyOf(small: SmallPicture): Plane {
  const [red, green, blue] = small.channels;
  const data = new Float32Array(red.length);
  for (let i = 0; i < data.length; i++) {
    data[i] = brightness[0] * red[i]! + brightness[1] * green[i]! + brightness[2] * blue[i]!;
  }
  return { width: small.width, height: small.height, data };
}

/** Takes away the barriers within `reach` dots of places without a picture: they are no edges of anything. In place. */
export function silenceUnseen(barrier: Barrier, seen: Uint8Array, reach: number): void {
  if (seen.indexOf(0) < 0) return;
  const { width, height, data } = barrier;
  const clear = extreme({ width, height, data: Float32Array.from(seen) }, reach, -1).data;
  for (let i = 0; i < data.length; i++) if (clear[i] === 0) data[i] = 0;
}
