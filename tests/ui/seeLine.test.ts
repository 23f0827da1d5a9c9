import { describe, expect, test } from 'vitest';
import type { Picture } from '../../src/exchange/photo/picture';
import { snapToLine } from '../../src/exchange/photo/snapToLine';
import { partAround } from '../../src/ui/bringin/photo/seeLine';
import { scaleOnly } from '../../src/workers/scaleOnly';

describe('the part of a picture looked at under the pen', () => {
  const image = { width: 400, height: 300 };

  test('lies round the pen, and is cut off at the border of the picture', () => {
    expect(partAround(200, 150, 60, image)).toEqual({ left: 140, top: 90, width: 121, height: 121 });
    expect(partAround(20, 290, 60, image)).toEqual({ left: 0, top: 230, width: 81, height: 70 });
    for (const [x, y] of [
      [-1, 10],
      [10, 300],
      [Number.NaN, 10],
    ] as const) {
      expect(partAround(x, y, 60, image)).toBeNull();
    }
  });

  test('shows a line near the border of a scan where it truly runs', () => {
    // 6 dots to the mm, a line of four dots drawn upright about x = 60 dots, 10 mm from the border.
    const { left, top, width, height } = partAround(66, 150, 160, image)!;
    const data = new Uint8ClampedArray(width * height * 4).fill(235);
    for (let y = 0; y < height; y++) {
      for (let x = 58 - left; x < 62 - left; x++) data.fill(40, (y * width + x) * 4, (y * width + x) * 4 + 3);
    }
    const picture: Picture = { width, height, data };
    const seen = snapToLine(picture, scaleOnly(picture, { x: left / 6, y: top / 6 }, 6), { x: 11, y: 25 }, 8);
    expect(seen?.kind).toBe('line');
    expect(seen!.at.x).toBeCloseTo(10, 1);
  });
});
