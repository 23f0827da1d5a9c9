import { decode, encode } from 'jpeg-js';
import type { Picture } from '../../../src/exchange/photo/picture';
import type { Optics } from './scene';

/** Three planes of linear light, 1 = white. */
export type Planes = readonly [Float32Array, Float32Array, Float32Array];

/** Gaussian blur of one plane in place, kernel cut at 3.5 standard deviations; borders repeat. */
export function blurPlane(plane: Float32Array, width: number, height: number, sigma: number): void {
  if (sigma <= 0) return;
  const reach = Math.ceil(3.5 * sigma);
  const kernel = Float64Array.from({ length: reach + 1 }, (_, i) => Math.exp((-i * i) / (2 * sigma * sigma)));
  const sum = kernel.reduce((total, k, i) => total + (i === 0 ? k : 2 * k), 0);
  for (let i = 0; i <= reach; i++) kernel[i] = kernel[i]! / sum;
  const row = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const at = y * width;
    row.set(plane.subarray(at, at + width), reach);
    row.fill(plane[at]!, 0, reach);
    row.fill(plane[at + width - 1]!, reach + width);
    for (let x = 0; x < width; x++) {
      let value = kernel[0]! * row[x + reach]!;
      for (let k = 1; k <= reach; k++) value += kernel[k]! * (row[x + reach - k]! + row[x + reach + k]!);
      plane[at + x] = value;
    }
  }
  // Down the columns a row at a time, keeping the rows above that are already overwritten.
  const kept = Array.from({ length: reach + 1 }, () => new Float32Array(width));
  const source = (y: number, now: number): Float32Array => {
    const inside = Math.min(height - 1, Math.max(0, y));
    return inside <= now ? kept[inside % (reach + 1)]! : plane.subarray(inside * width, (inside + 1) * width);
  };
  const sums = new Float64Array(width);
  for (let y = 0; y < height; y++) {
    kept[y % (reach + 1)]!.set(plane.subarray(y * width, (y + 1) * width));
    const middle = source(y, y);
    for (let x = 0; x < width; x++) sums[x] = kernel[0]! * middle[x]!;
    for (let k = 1; k <= reach; k++) {
      const above = source(y - k, y);
      const below = source(y + k, y);
      const weight = kernel[k]!;
      for (let x = 0; x < width; x++) sums[x] = sums[x]! + weight * (above[x]! + below[x]!);
    }
    plane.set(sums, y * width);
  }
}

const steps = 8192;

/** Linear light to coded value 0 to 255, by the sRGB curve (IEC 61966-2-1), then the S-shaped tone curve. */
function codeTable(tone: number): Float32Array {
  return Float32Array.from({ length: steps + 2 }, (_, i) => {
    const light = Math.min(1, i / steps);
    const coded = light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
    const curved = coded * coded * (3 - 2 * coded);
    return 255 * (coded + 0.5 * tone * (curved - coded));
  });
}

const tableSize = 1 << 16;

/** Normal deviates by the Box and Muller method. */
function normals(random: () => number): Float32Array {
  return Float32Array.from({ length: tableSize }, () => {
    const radius = Math.sqrt(-2 * Math.log(1 - random()));
    return radius * Math.cos(2 * Math.PI * random());
  });
}

/**
 * What a camera makes of the light that falls on its dots: blur, noise that grows with the root of the light, coding,
 * sharpening, JPEG. The planes are used up.
 */
export function expose(planes: Planes, width: number, height: number, optics: Optics, random: () => number): Picture {
  for (const plane of planes) blurPlane(plane, width, height, optics.blur);
  const codes = codeTable(optics.tone);
  const deviates = normals(random);
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let c = 0; c < 3; c++) {
    const plane = planes[c]!;
    for (let y = 0; y < height; y++) {
      // Each row reads the deviates from a place of its own; a long walk through one table would show as a pattern.
      let place = Math.floor(random() * tableSize);
      for (let i = y * width; i < (y + 1) * width; i++) {
        place = (place + 1) & (tableSize - 1);
        const light = plane[i]!;
        const noisy = light + optics.noise * Math.sqrt(Math.max(0, light) + 0.01) * deviates[place]!;
        const at = Math.min(1, Math.max(0, noisy)) * steps;
        const low = at | 0;
        plane[i] = codes[low]! + (codes[low + 1]! - codes[low]!) * (at - low);
      }
    }
    const soft = optics.sharpen > 0 ? plane.slice() : plane;
    if (optics.sharpen > 0) blurPlane(soft, width, height, 1.2);
    for (let i = 0; i < plane.length; i++) data[4 * i + c] = plane[i]! + optics.sharpen * (plane[i]! - soft[i]!);
  }
  const picture = { width, height, data };
  return optics.jpeg === null ? picture : throughJpeg(picture, optics.jpeg);
}

/** The picture as it comes back from a JPEG file of this quality. */
export function throughJpeg(picture: Picture, quality: number): Picture {
  const file = encode({ width: picture.width, height: picture.height, data: picture.data }, quality);
  const { width, height, data } = decode(file.data, { useTArray: true, maxMemoryUsageInMB: 2048 });
  return { width, height, data: new Uint8ClampedArray(data.buffer, data.byteOffset, data.byteLength) };
}
