import type { Picture } from '../photo/picture';

/** How the library hands over the dots of a picture: its numbers for them. */
const kinds = { oneBit: 1, rgb: 2, rgba: 3 } as const;

/**
 * A decoded picture as the library hands it over, as plain dots; null for one it could not decode. `mask`: one bit a
 * dot that says where to paint (0) or not (1), shown black on white as a scan is.
 */
export function pictureOf(decoded: unknown): Picture | null {
  if (typeof decoded !== 'object' || decoded === null) return null;
  const { width, height, kind, data } = decoded as {
    width?: unknown;
    height?: unknown;
    kind?: unknown;
    data?: unknown;
  };
  if (!isSide(width) || !isSide(height)) return null;
  if (!(data instanceof Uint8Array || data instanceof Uint8ClampedArray)) return null;
  const dots = new Uint8ClampedArray(width * height * 4);
  if (kind === kinds.rgba && data.length >= width * height * 4) dots.set(data.subarray(0, dots.length));
  else if (kind === kinds.rgb && data.length >= width * height * 3) spread(data, dots);
  else if ((kind === kinds.oneBit || kind === undefined) && data.length >= Math.ceil(width / 8) * height) {
    unpack(data, dots, width, height);
  } else return null;
  return { width, height, data: dots };
}

function isSide(value: unknown): value is number {
  return typeof value === 'number' && Number.isInteger(value) && value > 0;
}

function spread(from: ArrayLike<number>, to: Uint8ClampedArray): void {
  for (let i = 0, j = 0; i < to.length; i += 4, j += 3) {
    to[i] = from[j]!;
    to[i + 1] = from[j + 1]!;
    to[i + 2] = from[j + 2]!;
    to[i + 3] = 255;
  }
}

/** A set bit is white, for a mask as for a picture of one bit a dot. Rows begin on whole bytes. */
function unpack(from: ArrayLike<number>, to: Uint8ClampedArray, width: number, height: number): void {
  const row = Math.ceil(width / 8);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const white = ((from[y * row + (x >> 3)]! >> (7 - (x & 7))) & 1) * 255;
      const at = 4 * (y * width + x);
      to[at] = to[at + 1] = to[at + 2] = white;
      to[at + 3] = 255;
    }
  }
}
