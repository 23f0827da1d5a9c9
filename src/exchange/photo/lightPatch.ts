import type { Picture } from './picture';
import { brightness, light, seenOpacity } from './tones';

/** A square cut out of a picture: brightness in proportion to light, averaged over `cell` by `cell` dots. */
export interface LightPatch {
  readonly size: number;
  readonly cell: number;
  /** Upper left corner, dots of the picture. */
  readonly left: number;
  readonly top: number;
  /** Not a number where there is no picture, and within three deviations of the blur of that. */
  readonly data: Float64Array;
}

/** The patch around a place (dots), `half` cells to each side of it, blurred by a Gaussian of `blur` cells. */
export function lightPatch(
  picture: Picture,
  x: number,
  y: number,
  half: number,
  cell: number,
  blur: number,
): LightPatch {
  const size = 2 * half + 1;
  const left = Math.floor(x - (size * cell) / 2);
  const top = Math.floor(y - (size * cell) / 2);
  const data = new Float64Array(size * size);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      data[row * size + column] = cellLight(picture, left + column * cell, top + row * cell, cell);
    }
  }
  const reach = Math.ceil(3 * blur);
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * blur * blur)),
  );
  const whole = weights.reduce((sum, w) => sum + w, 0);
  const across = new Float64Array(size * size).fill(Number.NaN);
  for (let row = 0; row < size; row++) {
    for (let column = reach; column < size - reach; column++) {
      let sum = 0;
      for (let k = -reach; k <= reach; k++) sum += weights[k + reach]! * data[row * size + column + k]!;
      across[row * size + column] = sum / whole;
    }
  }
  const blurred = new Float64Array(size * size).fill(Number.NaN);
  for (let row = reach; row < size - reach; row++) {
    for (let column = reach; column < size - reach; column++) {
      let sum = 0;
      for (let k = -reach; k <= reach; k++) sum += weights[k + reach]! * across[(row + k) * size + column]!;
      blurred[row * size + column] = sum / whole;
    }
  }
  return { size, cell, left, top, data: blurred };
}

function cellLight({ width, height, data }: Picture, x0: number, y0: number, cell: number): number {
  if (x0 < 0 || y0 < 0 || x0 + cell > width || y0 + cell > height) return Number.NaN;
  let sum = 0;
  for (let y = y0; y < y0 + cell; y++) {
    for (let x = x0; x < x0 + cell; x++) {
      const i = 4 * (y * width + x);
      if (data[i + 3]! < seenOpacity) return Number.NaN;
      sum +=
        brightness[0] * light[data[i]!]! + brightness[1] * light[data[i + 1]!]! + brightness[2] * light[data[i + 2]!]!;
    }
  }
  return sum / (cell * cell);
}
