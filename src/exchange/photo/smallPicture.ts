import type { Picture } from './picture';

/** A picture reduced by a whole number, its channels apart, coded values 0 to 255. */
export interface SmallPicture {
  readonly width: number;
  readonly height: number;
  /** Dots of the picture in one dot of this, along each side. Dots left over at the right and the bottom are dropped. */
  readonly factor: number;
  readonly channels: readonly [Float32Array, Float32Array, Float32Array];
  /** 1 where there is a picture, 0 where any part of the dot has none. */
  readonly seen: Uint8Array;
}

/** Dots across the longer side of a reduced picture, at most. */
const mostAcross = 1050;

/** Mean opacity, of 255, from which on a dot is wholly picture. */
const wholly = 250;

/** What was reduced before: the sheet and the outline are looked for on the same picture, whose dots never change. */
const reduced = new WeakMap<Picture, SmallPicture>();
const halves = new WeakMap<SmallPicture, SmallPicture>();

function remembered<K extends object, V>(known: WeakMap<K, V>, key: K, make: (key: K) => V): V {
  const before = known.get(key);
  if (before !== undefined) return before;
  const value = make(key);
  known.set(key, value);
  return value;
}

/** The picture with the mean of every factor by factor dots; the factor is the smallest that gives at most 1,050 across. */
export function reducePicture(picture: Picture): SmallPicture {
  return remembered(reduced, picture, reduce);
}

/** The reduced picture at half its size. */
export function halved(small: SmallPicture): SmallPicture {
  return remembered(halves, small, halve);
}

function reduce(picture: Picture): SmallPicture {
  const factor = Math.max(1, Math.ceil(Math.max(picture.width, picture.height) / mostAcross));
  const width = Math.floor(picture.width / factor);
  const height = Math.floor(picture.height / factor);
  const [red, green, blue] = emptyChannels(width * height);
  const seen = new Uint8Array(width * height);
  const dots = packedDots(picture);
  // Red and blue, green and opacity are added up two to a number. A lane holds 256 dots, so blocks are taken in strips.
  const rows = Math.max(1, Math.min(factor, Math.floor(256 / factor)));
  const sums = new Float64Array(4 * width);
  const whole = factor * factor;
  for (let y = 0; y < height; y++) {
    sums.fill(0);
    for (let top = 0; top < factor; top += rows) {
      const bottom = Math.min(factor, top + rows);
      for (let x = 0; x < width; x++) {
        let redBlue = 0;
        let greenOpacity = 0;
        for (let dy = top; dy < bottom; dy++) {
          let i = (y * factor + dy) * picture.width + x * factor;
          for (const end = i + factor; i < end; i++) {
            const dot = dots[i]!;
            redBlue += dot & 0xff00ff;
            greenOpacity += (dot >>> 8) & 0xff00ff;
          }
        }
        sums[4 * x] = sums[4 * x]! + (redBlue & 0xffff);
        sums[4 * x + 1] = sums[4 * x + 1]! + (greenOpacity & 0xffff);
        sums[4 * x + 2] = sums[4 * x + 2]! + Math.floor(redBlue / 65536);
        sums[4 * x + 3] = sums[4 * x + 3]! + Math.floor(greenOpacity / 65536);
      }
    }
    for (let x = 0; x < width; x++) {
      if (sums[4 * x + 3]! < wholly * whole) continue;
      const at = y * width + x;
      seen[at] = 1;
      red[at] = sums[4 * x]! / whole;
      green[at] = sums[4 * x + 1]! / whole;
      blue[at] = sums[4 * x + 2]! / whole;
    }
  }
  return { width, height, factor, channels: [red, green, blue], seen };
}

function halve(small: SmallPicture): SmallPicture {
  const width = small.width >> 1;
  const height = small.height >> 1;
  const channels = emptyChannels(width * height);
  const seen = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const a = 2 * y * small.width + 2 * x;
      const b = a + small.width;
      const i = y * width + x;
      if (!(small.seen[a]! & small.seen[a + 1]! & small.seen[b]! & small.seen[b + 1]!)) continue;
      seen[i] = 1;
      for (let c = 0; c < 3; c++) {
        const from = small.channels[c]!;
        channels[c]![i] = (from[a]! + from[a + 1]! + from[b]! + from[b + 1]!) / 4;
      }
    }
  }
  return { width, height, factor: 2 * small.factor, channels, seen };
}

function emptyChannels(count: number): [Float32Array, Float32Array, Float32Array] {
  return [new Float32Array(count), new Float32Array(count), new Float32Array(count)];
}

/** One number a dot: red in the lowest byte, opacity in the highest. Typed arrays are little-endian wherever browsers run. */
function packedDots({ data }: Picture): Uint32Array {
  const aligned = data.byteOffset % 4 === 0 ? data : data.slice();
  return new Uint32Array(aligned.buffer, aligned.byteOffset, aligned.length >> 2);
}
