import { describe, expect, it } from 'vitest';
import { controlBox } from '../../../src/exchange/drawing/nearText';
import { furnitureOf } from '../../../src/exchange/pdf/furniture';
import { orderJoins } from '../../../src/exchange/pdf/orderJoins';
import { PageClusters } from '../../../src/exchange/pdf/pageClusters';
import type { PageJoin } from '../../../src/exchange/pdf/pageJoin';
import { pageLabels } from '../../../src/exchange/pdf/pageLabels';
import type { PdfPage, PdfShape } from '../../../src/exchange/pdf/pdfReading';
import { ReadingOrder } from '../../../src/exchange/pdf/readingOrder';
import { snapPage } from '../../../src/exchange/pdf/snapPage';
import { squaresOnPage } from '../../../src/exchange/pdf/squaresOnPage';
import type { Point } from '../../../src/geometry/point';
import { line, type Path } from '../../../src/geometry/segment';

const [width, height] = [200, 280];

function shape(id: string, path: Path, closed = false): PdfShape {
  return {
    id,
    path,
    closed,
    strokeDash: null,
    colour: '#000000',
    lineWidth: 0.3,
    filled: false,
    layer: null,
    name: null,
    nearText: null,
    seen: controlBox(path),
  };
}

function page(number: number, shapes: readonly PdfShape[] = [], words: readonly string[] = []): PdfPage {
  const texts = words.map((text) => ({ words: text, x: 10, y: 10, size: 4 }));
  return { number, width, height, shapes, texts, pictures: [], rasterOnly: false };
}

const stroke = (id: string, x0: number, y0: number, x1: number, y1: number) =>
  shape(id, [line({ x: x0, y: y0 }, { x: x1, y: y1 })]);

function box(id: string, x: number, y: number, wide: number, tall: number): PdfShape {
  const corners = [
    { x, y },
    { x, y: y + tall },
    { x: x + wide, y: y + tall },
    { x: x + wide, y },
  ];
  return shape(
    id,
    corners.map((corner, i) => line(corner, corners[(i + 1) % 4]!)),
    true,
  );
}

function join(first: number, second: number, shift: Point, sure = true): PageJoin {
  return { first, second, shift, how: 'line-ends', matches: 4, agreement: 1, worst: 0.01, sure };
}

describe('joins that close a circle of pages', () => {
  const circle = (last: PageJoin) => {
    const clusters = new PageClusters([1, 2, 3].map((number) => page(number)));
    clusters.take(join(1, 2, { x: 200, y: 0 }));
    clusters.take(join(2, 3, { x: 0, y: 280 }));
    clusters.take(last);
    return clusters;
  };

  it('and do not: a sure one is counted as contradicting the others, an unsure one is not; the pages stay', () => {
    const off = circle(join(1, 3, { x: 203, y: 280 }));
    expect(off.contradictions).toBe(1);
    expect(off.placeOf(3)).toEqual({ x: 200, y: 280 });
    off.take(join(1, 3, { x: 190, y: 280 }));
    expect(off.contradictions).toBe(2);
    expect(circle(join(1, 3, { x: 203, y: 280 }, false)).contradictions).toBe(0);
  });

  it('and do: by how much they miss is the worst', () => {
    const near = circle(join(1, 3, { x: 200.4, y: 280.3 }));
    expect(near.contradictions).toBe(0);
    expect(near.worst).toBeCloseTo(0.5, 9);
  });
});

describe('pages laid by the order of the file', () => {
  it('lie below the page before them first, else above the one after; a row is the middle one of all rows', () => {
    // Two columns, four rows; page 4 shares no line with any other.
    const joins = [
      join(1, 2, { x: 200, y: 0 }),
      join(1, 3, { x: 0, y: 275 }),
      join(3, 5, { x: 0, y: 265 }),
      join(5, 6, { x: 200, y: 0 }),
      join(5, 7, { x: 0, y: 270 }),
      join(7, 8, { x: 200, y: 0 }),
    ];
    const pages = [1, 2, 3, 4, 5, 6, 7, 8].map((number) => page(number));
    const clusters = new PageClusters(pages);
    for (const one of joins) clusters.take(one);
    const found = orderJoins(pages, clusters, new ReadingOrder(joins));
    expect(found.map(({ first, second, shift, sure }) => [first, second, shift.y, sure])).toEqual([
      [2, 4, 270, false],
      [6, 4, -270, false],
    ]);
  });
});

describe('rows and columns written on the pages', () => {
  it('are believed of no page where two claim the same place', () => {
    const pages = [page(1, [], ['A1']), page(2, [], ['B3']), page(3, [], ['B3']), page(4, [], ['A2', 'B1'])];
    expect([...pageLabels(pages)]).toEqual([[1, { row: 0, column: 0 }]]);
  });
});

describe('where a page laid by hand snaps', () => {
  it('a whole shape drawn on both pages says more than line ends that would meet elsewhere', () => {
    // By the zigzag the pages lie 171 mm apart; where the ends of two lines meet, 173 mm.
    const zigzag = (id: string, x: number) =>
      shape(id, [
        line({ x, y: 100 }, { x: x + 0.9, y: 121 }),
        line({ x: x + 0.9, y: 121 }, { x: x + 0.4, y: 149 }),
        line({ x: x + 0.4, y: 149 }, { x: x + 0.7, y: 160 }),
      ]);
    const left = page(1, [stroke('a', 100, 60, 200, 70), zigzag('c', 199)]);
    const right = page(2, [stroke('d', 27, 70, 127, 80), zigzag('f', 28)]);
    const places = [
      { page: 1, at: { x: 0, y: 0 } },
      { page: 2, at: { x: 172, y: 0 } },
    ];
    const found = snapPage([left, right], places, 2, { x: 172, y: 0 }, 6);
    expect(found?.at.x).toBeCloseTo(171, 3);
    const endsOnly = snapPage(
      [left, right].map((one) => ({ ...one, shapes: one.shapes.slice(0, 1) })),
      places,
      2,
      { x: 172, y: 0 },
      6,
    );
    expect(endsOnly?.at.x).toBeCloseTo(173, 3);
  });
});

describe('what a page laid by hand is said to meet', () => {
  const snapped = (pages: readonly PdfPage[], places: readonly { page: number; at: Point }[], at: Point) =>
    snapPage(pages, places, 2, at, 6)?.matches;

  it('is counted by its own lines: one drawn again on four pages, or over both borders, is one', () => {
    const bend = (id: string, x: number) =>
      shape(id, [line({ x, y: 100 }, { x: x + 30, y: 121 }), line({ x: x + 30, y: 121 }, { x: x + 4, y: 160 })]);
    const four = [1, 2, 3, 4, 5].map((number) => page(number, [bend(`bend-${number}`, 60 + 10 * number)]));
    const fourPlaces = four.map(({ number }) => ({ page: number, at: { x: -10 * number, y: 0 } }));
    expect(snapped(four, fourPlaces, { x: -21, y: 1 })).toBe(1);
    // Two lines through the middle page of three, each over its left and its right border.
    const row = [0, 1, 2].map((i) =>
      page(i + 1, [stroke(`a${i}`, 0, 60 + 9 * i, 200, 69 + 9 * i), stroke(`b${i}`, 0, 190 + 9 * i, 200, 199 + 9 * i)]),
    );
    const rowPlaces = row.map(({ number }) => ({ page: number, at: { x: 200 * (number - 1), y: 0 } }));
    expect(snapped(row, rowPlaces, { x: 202, y: 1 })).toBe(2);
  });
});

describe('squares drawn as four lines', () => {
  const square = [
    stroke('top', 40, 40, 90, 40),
    stroke('foot', 40, 90, 90, 90),
    stroke('left', 40, 40, 40, 90),
    stroke('right', 90, 40, 90, 90),
  ];
  const ruled = (count: number, level: boolean) =>
    Array.from({ length: count }, (_, i) =>
      level ? stroke(`r${i}`, 100, 10 + i, 160, 10 + i) : stroke(`r${i}`, 100 + i / 3, 10, 100 + i / 3, 70),
    );

  it('are not looked for among more than 200 ruled lines, level or upright', () => {
    for (const level of [true, false]) {
      expect(squaresOnPage(page(1, [...square, ...ruled(198, level)])).some(({ minX }) => minX === 40)).toBe(true);
      expect(squaresOnPage(page(1, [...square, ...ruled(199, level)]))).toEqual([]);
    }
  });
});

describe('what belongs to the pages of a file of two pages', () => {
  const both = (make: (id: string) => PdfShape) => [page(1, [make('one')]), page(2, [make('two')])];

  it.each([
    ['a small piece in the middle of both', (id: string) => box(id, 80, 100, 50, 30), 0],
    ['a pattern mark in the middle of both', (id: string) => stroke(id, 100, 120, 106, 120), 0],
    ['a band of a piece over a third of both', (id: string) => box(id, 60, 90, 70, 110), 0],
    ['a straight grainline', (id: string) => stroke(id, 100, 60, 100, 230), 0],
    ['a mark in the margin', (id: string) => box(id, 4, 4, 8, 8), 2],
    ['a frame', (id: string) => box(id, 10, 10, 180, 260), 2],
    ['a line of a frame', (id: string) => stroke(id, 10, 10, 190, 10), 2],
  ])('%s', (_, make, count) => {
    expect(furnitureOf(both(make)).size).toBe(count);
  });

  it('is asked less where three pages say the same', () => {
    const pages = [1, 2, 3].map((number) => page(number, [box(`p${number}`, 80, 100, 50, 30)]));
    expect(furnitureOf(pages).size).toBe(3);
  });
});
