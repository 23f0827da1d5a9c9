import { describe, expect, it } from 'vitest';
import { findSheets } from '../../../src/exchange/photo/findSheets';
import type { Picture } from '../../../src/exchange/photo/picture';
import { distance, type Point } from '../../../src/geometry/point';
import { framed, seenAt, viewOf } from '../../support/photo/pinhole';
import { type Look, numbersFrom, photograph, type Sheet } from '../../support/photo/plainSheet';

const a4: Sheet = { x: 0, y: 0, width: 210, height: 297, colour: [0.8, 0.8, 0.78] };
const room = [
  { x: -20, y: -20 },
  { x: 720, y: -20 },
  { x: 720, y: 380 },
  { x: -20, y: 380 },
];
const view = viewOf(
  framed({ width: 1600, height: 1200, focal: 1230, tilt: 0.4, tiltTowards: 2, roll: 0.1, lens: 0.03 }, room),
);
const plain: Look = { table: [0.25, 0.14, 0.07], blur: 0.9, noise: 3, seed: 4 };

/** Long grain in two browns. */
const grain = (x: number, y: number): readonly [number, number, number] => {
  const g = 0.8 + 0.25 * Math.sin(y / 3 + 2 * Math.sin(x / 90)) + 0.15 * Math.sin(y / 0.9 + x / 60);
  return [0.28 * g, 0.16 * g, 0.08 * g];
};

/** A printed cloth: patches of 9 mm, white among them. */
const patches = Array.from({ length: 4096 }, numbersFrom(9));
const print = (x: number, y: number): readonly [number, number, number] => {
  const v = patches[(Math.floor(x / 9) * 61 + Math.floor(y / 9) * 17) & 4095]!;
  return v < 0.25 ? [0.75, 0.72, 0.7] : v < 0.5 ? [0.5, 0.08, 0.1] : v < 0.75 ? [0.1, 0.15, 0.4] : [0.1, 0.3, 0.12];
};

function cornersOf({ x, y, width, height }: Sheet): Point[] {
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ].map((p) => seenAt(view, p));
}

/** Dots by which the farthest corner of the first sheet found misses the truth. */
function missOfFirst(picture: Picture, sheet: Sheet): number {
  const [first] = findSheets(picture);
  if (first === undefined) return Number.POSITIVE_INFINITY;
  const truth = cornersOf(sheet);
  return Math.max(...truth.map((t) => Math.min(...first.corners.map((c) => distance(c, t)))));
}

describe('a sheet on a table', () => {
  it.each([
    ['plain wood', plain],
    ['grained wood', { ...plain, table: grain }],
    ['a printed cloth with white in it', { ...plain, table: print }],
    ['a rather light table, its edge weak', { ...plain, table: [0.6, 0.59, 0.57] }],
    ['a table half in the shade', { ...plain, light: (x: number, y: number) => (x + y > 200 ? 0.35 : 0.9) }],
  ] as const)('is found to a dot on %s', (_, look) => {
    expect(missOfFirst(photograph(view, [a4], look), a4)).toBeLessThan(1);
  });

  it('comes before a brighter piece and a card, and tells its proportions', () => {
    const others: Sheet[] = [
      { x: 260, y: 10, width: 420, height: 240, turn: 0.1, colour: [0.85, 0.85, 0.85] },
      { x: 300, y: 300, width: 85.6, height: 54, colour: [0.9, 0.9, 0.2] },
    ];
    const picture = photograph(view, [a4, ...others], { ...plain, table: grain });
    expect(missOfFirst(picture, a4)).toBeLessThan(1);
    expect(findSheets(picture)[0]!.longOverShort).toBeCloseTo(Math.SQRT2, 1.7);
  });

  it('may be dark on a light table', () => {
    const dark = { ...a4, colour: [0.08, 0.08, 0.1] } as const;
    expect(missOfFirst(photograph(view, [dark], { ...plain, table: [0.7, 0.68, 0.6] }), dark)).toBeLessThan(1);
  });

  it('is given from its upper left corner round clockwise', () => {
    const [first] = findSheets(photograph(view, [a4], plain));
    const [a, b, c, d] = first!.corners;
    expect(a.x).toBeLessThan(b.x);
    expect(d.x).toBeLessThan(c.x);
    expect(a.y).toBeLessThan(d.y);
    expect(b.y).toBeLessThan(c.y);
  });
});

describe('no sheet', () => {
  it('is found on an empty table, in noise, or in a picture of a few dots', () => {
    expect(findSheets(photograph(view, [], { ...plain, table: grain }))).toEqual([]);
    expect(findSheets(photograph(view, [], { ...plain, noise: 40 }))).toEqual([]);
    for (const [width, height] of [
      [1, 1],
      [3, 2],
      [40, 1],
    ] as const) {
      expect(findSheets({ width, height, data: new Uint8ClampedArray(width * height * 4).fill(255) })).toEqual([]);
    }
  });

  it('is one that the border of the picture cuts', () => {
    const cut: Sheet = { ...a4, x: -150 };
    expect(findSheets(photograph(view, [cut], plain))).toEqual([]);
  });

  it('is a round plate', () => {
    const plate = (x: number, y: number) =>
      Math.hypot(x - 300, y - 180) < 120 ? ([0.8, 0.8, 0.8] as const) : ([0.2, 0.12, 0.07] as const);
    expect(findSheets(photograph(view, [], { ...plain, table: plate }))).toEqual([]);
  });

  it('is told within two seconds of work on pictures made to be slow', () => {
    const [width, height] = [3000, 2000];
    const next = numbersFrom(3);
    const made = {
      noise: () => 255 * next(),
      tiles: (x: number, y: number) => 40 * ((Math.floor(x / 90) * 7 + Math.floor(y / 90) * 3) % 6),
      rings: (x: number, y: number) => 128 + 127 * Math.sin(Math.hypot(x - 1500, y - 1000) / 30),
    };
    for (const level of Object.values(made)) {
      const data = new Uint8ClampedArray(width * height * 4).fill(255);
      for (let y = 0; y < height; y++) {
        for (let x = 0; x < width; x++) data.fill(level(x, y), 4 * (y * width + x), 4 * (y * width + x) + 3);
      }
      const before = process.cpuUsage();
      findSheets({ width, height, data });
      expect(process.cpuUsage(before).user / 1e6).toBeLessThan(2);
    }
  });
});
