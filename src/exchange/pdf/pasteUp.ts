import type { Bounds } from '../../geometry/bounds';
import { type Affine, affine, chain, mapPoint } from '../drawing/affine';
import type { Picture } from '../photo/picture';

/** A picture and the map from its dots (x right, y down) to mm on the page. */
export interface PlacedPicture {
  readonly picture: Picture;
  readonly toPage: Affine;
}

/** From the dots of a picture to mm, given the map of the unit square the picture fills (y up, as PDF lays pictures). */
export function dotsToPage(picture: Picture, unitToPage: Affine): Affine {
  return chain(unitToPage, affine(1 / picture.width, 0, 0, -1 / picture.height, 0, 1));
}

/**
 * A picture that lies square on its page, turned and mirrored as it lies there, none of its dots changed; null when it
 * lies aslant.
 */
export function uprightPicture({ picture, toPage }: PlacedPicture): Picture | null {
  const size = Math.max(Math.abs(toPage.a), Math.abs(toPage.b), Math.abs(toPage.c), Math.abs(toPage.d));
  // A thousandth of a radian over a whole page is 0.3 mm at its far edge; programs write such pictures exactly square.
  const isNone = (value: number) => Math.abs(value) <= 1e-5 * size;
  const { width, height, data } = picture;
  const turned = isNone(toPage.a) && isNone(toPage.d);
  if (!turned && !(isNone(toPage.b) && isNone(toPage.c))) return null;
  const flipX = (turned ? toPage.c : toPage.a) < 0;
  const flipY = (turned ? toPage.b : toPage.d) < 0;
  if (!turned && !flipX && !flipY) return picture;
  const across = turned ? height : width;
  const down = turned ? width : height;
  const from = new Uint32Array(data.buffer, data.byteOffset, width * height);
  const to = new Uint32Array(width * height);
  for (let y = 0; y < down; y++) {
    const v = flipY ? down - 1 - y : y;
    for (let x = 0; x < across; x++) {
      const u = flipX ? across - 1 - x : x;
      to[y * across + x] = turned ? from[u * width + v]! : from[v * width + u]!;
    }
  }
  return { width: across, height: down, data: new Uint8ClampedArray(to.buffer) };
}

/** Several pictures on one white sheet, each dot mixed from the four around its place. Later ones lie on top. */
export function pastedUp(parts: readonly PlacedPicture[], box: Bounds, dotsPerMm: number): Picture {
  const width = Math.max(1, Math.round((box.maxX - box.minX) * dotsPerMm));
  const height = Math.max(1, Math.round((box.maxY - box.minY) * dotsPerMm));
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (const { picture, toPage } of parts) {
    const back = inverse(toPage);
    if (!back) continue;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const on = { x: box.minX + (x + 0.5) / dotsPerMm, y: box.minY + (y + 0.5) / dotsPerMm };
        const dot = mapPoint(back, on);
        if (dot.x < 0 || dot.y < 0 || dot.x > picture.width || dot.y > picture.height) continue;
        mixInto(data, 4 * (y * width + x), picture, dot.x - 0.5, dot.y - 0.5);
      }
    }
  }
  return { width, height, data };
}

function mixInto(to: Uint8ClampedArray, at: number, { width, height, data }: Picture, x: number, y: number): void {
  const x0 = Math.min(width - 1, Math.max(0, Math.floor(x)));
  const y0 = Math.min(height - 1, Math.max(0, Math.floor(y)));
  const x1 = Math.min(width - 1, x0 + 1);
  const y1 = Math.min(height - 1, y0 + 1);
  const fx = Math.min(1, Math.max(0, x - x0));
  const fy = Math.min(1, Math.max(0, y - y0));
  for (let k = 0; k < 3; k++) {
    const read = (column: number, row: number) => data[4 * (row * width + column) + k]!;
    const upper = read(x0, y0) * (1 - fx) + read(x1, y0) * fx;
    const lower = read(x0, y1) * (1 - fx) + read(x1, y1) * fx;
    to[at + k] = upper * (1 - fy) + lower * fy;
  }
}

function inverse({ a, b, c, d, e, f }: Affine): Affine | null {
  const det = a * d - b * c;
  if (!Number.isFinite(1 / det)) return null;
  return affine(d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det);
}
