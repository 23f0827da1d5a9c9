import type { Picture } from './picture';

/** Dots of a block's side: places on the picture are worked out at its corners and read off between. */
export const blockSide = 8;

/** A block of the result, cut at its right and lower border. */
export interface Block {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Fills a block of a picture `into` (rows of `stride` dots) from the four-cornered part of `picture` between `corners`
 * (x y of upper left, upper right, lower right, lower left, for a whole block of eight by eight dots).
 */
export function sampleBlock(
  picture: Picture,
  corners: Float64Array,
  block: Block,
  into: Uint8ClampedArray,
  stride: number,
): void {
  const ax = corners[0]!;
  const ay = corners[1]!;
  const bx = corners[2]!;
  const by = corners[3]!;
  const cx = corners[4]!;
  const cy = corners[5]!;
  const dx = corners[6]!;
  const dy = corners[7]!;
  // Dots of the source in one dot of the result, each way.
  const across = Math.hypot(bx - ax, by - ay) / blockSide;
  const down = Math.hypot(dx - ax, dy - ay) / blockSide;
  const taps = Math.min(8, Math.round(Math.sqrt(across * down)));
  for (let y = 0; y < block.height; y++) {
    const v = (y + 0.5) / blockSide;
    const lx = ax + (dx - ax) * v;
    const ly = ay + (dy - ay) * v;
    const rx = bx + (cx - bx) * v;
    const ry = by + (cy - by) * v;
    const stepX = (rx - lx) / blockSide;
    const stepY = (ry - ly) / blockSide;
    let sx = lx + stepX / 2;
    let sy = ly + stepY / 2;
    let to = ((block.top + y) * stride + block.left) * 4;
    for (let x = 0; x < block.width; x++, sx += stepX, sy += stepY, to += 4) {
      if (!(sx >= 0 && sy >= 0 && sx <= picture.width && sy <= picture.height)) continue;
      if (taps < 2) mixFour(picture, sx, sy, into, to);
      else average(picture, sx, sy, stepX, stepY, (dx - ax) / blockSide, (dy - ay) / blockSide, taps, into, to);
    }
  }
}

/** The four dots round a place, each by its nearness. Beyond the middles of the outermost dots these repeat. */
function mixFour(picture: Picture, sx: number, sy: number, into: Uint8ClampedArray, to: number): void {
  const { data, width, height } = picture;
  const x = Math.min(width - 1, Math.max(0, sx - 0.5));
  const y = Math.min(height - 1, Math.max(0, sy - 0.5));
  const left = x | 0;
  const top = y | 0;
  const u = x - left;
  const v = y - top;
  const p = (top * width + left) * 4;
  const q = left + 1 < width ? p + 4 : p;
  const below = top + 1 < height ? width * 4 : 0;
  const a = (1 - u) * (1 - v);
  const b = u * (1 - v);
  const c = (1 - u) * v;
  const d = u * v;
  for (let k = 0; k < 4; k++) {
    into[to + k] = a * data[p + k]! + b * data[q + k]! + c * data[p + below + k]! + d * data[q + below + k]!;
  }
}

/** The mean of taps by taps dots spread over the part of the source that one dot of the result covers. */
function average(
  picture: Picture,
  sx: number,
  sy: number,
  ux: number,
  uy: number,
  vx: number,
  vy: number,
  taps: number,
  into: Uint8ClampedArray,
  to: number,
): void {
  const { data, width, height } = picture;
  let red = 0;
  let green = 0;
  let blue = 0;
  let opacity = 0;
  const step = 1 / taps;
  for (let i = 0; i < taps; i++) {
    const v = (i + 0.5) * step - 0.5;
    for (let j = 0; j < taps; j++) {
      const u = (j + 0.5) * step - 0.5;
      const x = (sx + u * ux + v * vx) | 0;
      const y = (sy + u * uy + v * vy) | 0;
      const at = (clamp(y, height) * width + clamp(x, width)) * 4;
      red += data[at]!;
      green += data[at + 1]!;
      blue += data[at + 2]!;
      opacity += data[at + 3]!;
    }
  }
  const share = step * step;
  into[to] = red * share;
  into[to + 1] = green * share;
  into[to + 2] = blue * share;
  into[to + 3] = opacity * share;
}

function clamp(i: number, size: number): number {
  return Math.min(size - 1, Math.max(0, i));
}
