import { describe, expect, it } from 'vitest';
import { flatPicture, joinFlat } from '../../../src/exchange/photo/flatPicture';
import type { Picture } from '../../../src/exchange/photo/picture';
import type { PictureView } from '../../../src/exchange/photo/pictureView';
import { invert, movePoint, stayPut, turnAbout } from '../../../src/geometry/rigidMove';
import { framed, seenAt, viewOf } from '../../support/photo/pinhole';

const room = [
  { x: 0, y: 0 },
  { x: 300, y: 0 },
  { x: 300, y: 200 },
  { x: 0, y: 200 },
];
const camera = { width: 800, height: 600, focal: 640, tilt: 0.5, tiltTowards: 1, roll: 0.1, lens: 0.05 };
const view = viewOf(framed(camera, room));

/** A picture whose red and green tell the place itself: 8 dots a step, so that mixing dots is exact to rounding. */
function placesPicture(width: number, height: number, blue = 0): Picture {
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) data.set([(x + 0.5) / 4, (y + 0.5) / 4, blue, 255], 4 * (y * width + x));
  }
  return { width, height, data };
}

const dotAt = (picture: Picture, x: number, y: number): number[] => [
  ...picture.data.subarray(4 * (y * picture.width + x), 4 * (y * picture.width + x) + 4),
];

describe('a flat picture', () => {
  it.each([0.5, 1, 2.5])('shows at every dot what the camera saw there, at %d dots to the mm', (dotsPerMm) => {
    const picture = placesPicture(800, 600);
    const flat = flatPicture(picture, view, { minX: 10, minY: 20, maxX: 290, maxY: 190 }, dotsPerMm);
    expect(flat.picture.width).toBe(Math.round(280 * dotsPerMm));
    expect(flat.origin).toEqual({ x: 10, y: 20 });
    for (let y = 0; y < flat.picture.height; y += 13) {
      for (let x = 0; x < flat.picture.width; x += 13) {
        const seen = seenAt(view, { x: 10 + (x + 0.5) / dotsPerMm, y: 20 + (y + 0.5) / dotsPerMm });
        const [red, green, , opacity] = dotAt(flat.picture, x, y);
        expect(opacity).toBe(255);
        // Bytes are whole numbers: half a step for the source, half for the result.
        expect(Math.abs(red! - seen.x / 4)).toBeLessThan(1.1);
        expect(Math.abs(green! - seen.y / 4)).toBeLessThan(1.1);
      }
    }
  });

  it('is clear where the picture shows nothing', () => {
    const flat = flatPicture(placesPicture(800, 600), view, { minX: -400, minY: -400, maxX: 700, maxY: 600 }, 1);
    for (let y = 5; y < flat.picture.height; y += 10) {
      for (let x = 5; x < flat.picture.width; x += 10) {
        const seen = seenAt(view, { x: -400 + x + 0.5, y: -400 + y + 0.5 });
        const margin = Math.min(seen.x, seen.y, 800 - seen.x, 600 - seen.y);
        if (margin > 1) expect(dotAt(flat.picture, x, y)[3]).toBe(255);
        if (margin < -1) expect(dotAt(flat.picture, x, y)[3]).toBe(0);
      }
    }
  });

  it('averages when it is much coarser than the picture, so that a fine check becomes even grey', () => {
    const data = new Uint8ClampedArray(800 * 600 * 4).fill(255);
    for (let i = 0; i < 800 * 600; i++) {
      const lit = ((i % 800) + Math.floor(i / 800)) % 2 === 0 ? 200 : 100;
      data.fill(lit, 4 * i, 4 * i + 3);
    }
    const straight: PictureView = { width: 800, height: 600, lens: 0, homography: [0.1, 0, 0, 0, 0.1, 0, 0, 0, 1] };
    const flat = flatPicture(
      { width: 800, height: 600, data },
      straight,
      { minX: 0, minY: 0, maxX: 80, maxY: 60 },
      2.5,
    );
    for (let i = 0; i < flat.picture.width * flat.picture.height; i++) {
      expect(Math.abs(flat.picture.data[4 * i]! - 150)).toBeLessThan(2);
    }
  });
});

describe('several pictures joined', () => {
  const plain: PictureView = { width: 400, height: 300, lens: 0, homography: [0.5, 0, 0, 0, 0.5, 0, 0, 0, 1] };
  const move = turnAbout({ x: 150, y: 80 }, 0.1);
  const one = { picture: placesPicture(400, 300, 0), view: plain, move: stayPut };
  const other = { picture: placesPicture(400, 300, 240), view: plain, move };
  const all = joinFlat([one, other], { minX: -20, minY: -20, maxX: 260, maxY: 190 }, 2);

  it('take each place from the picture that shows it nearest to its middle, and change over softly', () => {
    let soft = 0;
    for (let y = 3; y < all.picture.height; y += 7) {
      for (let x = 3; x < all.picture.width; x += 7) {
        const place = { x: -20 + (x + 0.5) / 2, y: -20 + (y + 0.5) / 2 };
        const first = { x: place.x * 2, y: place.y * 2 };
        const back = movePoint(invert(move), place);
        const second = { x: back.x * 2, y: back.y * 2 };
        const inside = (p: { x: number; y: number }, by: number) => Math.min(p.x, p.y, 400 - p.x, 300 - p.y) > by;
        const [, , blue, opacity] = dotAt(all.picture, x, y);
        const from = (p: { x: number; y: number }) => Math.hypot(p.x - 200, p.y - 150) / 250;
        if (inside(first, 5) && inside(second, 5)) {
          const lead = from(second) - from(first);
          if (lead > 0.07) expect(blue).toBe(0);
          else if (lead < -0.07) expect(blue).toBe(240);
          else soft++;
        } else if (inside(first, 5) && !inside(second, -5)) expect(blue).toBe(0);
        else if (inside(second, 5) && !inside(first, -5)) expect(blue).toBe(240);
        else if (!inside(first, -5) && !inside(second, -5)) expect(opacity).toBe(0);
      }
    }
    expect(soft).toBeGreaterThan(10);
  });
});
