import { describe, expect, it } from 'vitest';
import { joinLoosePaths } from '../../../src/exchange/drawing/joinLoosePaths';
import { arrangePages } from '../../../src/exchange/pdf/arrangePages';
import { layPages } from '../../../src/exchange/pdf/layPages';
import type { PageArrangement } from '../../../src/exchange/pdf/pageArrangement';
import type { PdfPage } from '../../../src/exchange/pdf/pdfReading';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { snapPage } from '../../../src/exchange/pdf/snapPage';
import { flattenPath } from '../../../src/geometry/flatten';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { pathLength } from '../../../src/geometry/path';
import type { Point } from '../../../src/geometry/point';
import { cubic, line, type Path } from '../../../src/geometry/segment';
import { drawPdf } from '../../../src/print/drawPdf';
import { paperNamed, planned, printable } from '../../print/support/garments';
import { rectangle } from '../../print/support/pieces';
import { pdfFile, pt } from './pdfText';
import { bodice, gradedSheet } from './sheets';
import { type SheetLine, type TileWish, tiledPdf } from './tiles';

async function pagesOf(bytes: Uint8Array): Promise<readonly PdfPage[]> {
  const read = await readPdf(bytes);
  if (!read.ok) throw new Error(read.sentence);
  return read.value.pages;
}

/** Largest distance of a page from where it belongs, the whole sheet being free to lie anywhere. */
function misplaced(found: PageArrangement, corners: readonly Point[]): number {
  const first = found.places[0]!;
  const dx = first.at.x - corners[first.page - 1]!.x;
  const dy = first.at.y - corners[first.page - 1]!.y;
  return Math.max(
    ...found.places.map(({ page, at }) =>
      Math.hypot(at.x - dx - corners[page - 1]!.x, at.y - dy - corners[page - 1]!.y),
    ),
  );
}

/** Largest distance between two closed paths, both ways, the second moved by `by`. */
function apart(a: Path, b: Path, by: Point): number {
  const moved = (p: Point) => ({ x: p.x + by.x, y: p.y + by.y });
  const back = (p: Point) => ({ x: p.x - by.x, y: p.y - by.y });
  return Math.max(
    ...flattenPath(a, 0.01).map((p) => nearestOnPath(b, back(p)).distance),
    ...flattenPath(b, 0.01).map((p) => nearestOnPath(a, moved(p)).distance),
  );
}

const grid: TileWish = { columns: 2, rows: 3, width: 190, height: 200, margin: 10, how: 'cut' };

const wishes: readonly (readonly [string, TileWish, PageArrangement['how']])[] = [
  ['the whole sheet on every page behind a window', { ...grid, how: 'window' }, 'same-drawing'],
  ['the same with overlap and frames', { ...grid, how: 'window', overlap: 12, frame: true }, 'same-drawing'],
  ['lines cut at the border', grid, 'line-ends'],
  ['lines cut at the border, with frames', { ...grid, frame: true }, 'line-ends'],
  ['lines cut at the border, no margin', { ...grid, margin: 0 }, 'line-ends'],
  ['lines cut, pages overlapping by 10 mm', { ...grid, overlap: 10 }, 'line-ends'],
  ['lines cut, pages overlapping by 15 mm, with frames', { ...grid, overlap: 15, frame: true }, 'line-ends'],
];

describe.each(wishes)('a sheet in tiles: %s', (_, wish, how) => {
  it('is laid together to a twentieth of a mm, every outline whole', async () => {
    const sheet = gradedSheet();
    const { bytes, corners } = tiledPdf(sheet, wish);
    const pages = await pagesOf(bytes);
    const found = arrangePages(pages);
    expect(found.how).toBe(how);
    expect(misplaced(found, corners)).toBeLessThan(0.05);
    expect(found.worst).toBeLessThan(0.05);
    expect(found.joined).toEqual([1, 2, 3, 4, 5, 6]);
    const laid = layPages(pages, found.places);
    if (!laid.ok) throw new Error(laid.sentence);
    const by = { x: found.places[0]!.at.x - corners[0]!.x, y: found.places[0]!.at.y - corners[0]!.y };
    // Cut at every border and joined again: three whole outlines, and a grainline that is one straight line.
    expect(laid.value.shapes.map(({ closed }) => closed).filter(Boolean).length).toBe(3);
    expect(laid.value.shapes.filter(({ closed }) => !closed).map(({ path }) => path.length)).toEqual([1]);
    const dashes = new Set(laid.value.shapes.map(({ strokeDash, colour }) => `${strokeDash} ${colour}`));
    expect(dashes.size).toBe(4);
    for (const colour of ['#ff0000', '#0000ff', '#000000']) {
      const { outlines } = joinLoosePaths(laid.value.shapes.filter((shape) => shape.colour === colour));
      expect(outlines.filter(({ closed }) => closed).length).toBe(1);
      const source = sheet[['#ff0000', '#0000ff', '#000000'].indexOf(colour)]!.path;
      expect(apart(outlines[0]!.path, source, by)).toBeLessThan(0.05);
      expect(outlines.length).toBe(1);
    }
  });
});

describe('pages that cannot be joined surely', () => {
  const bands: SheetLine[] = [
    { path: [line({ x: 20, y: 50 }, { x: 360, y: 50 })] },
    { path: [line({ x: 20, y: 90 }, { x: 360, y: 90 })] },
  ];

  it('R31 lines that all cross the border squarely: laid edge to edge, and told', async () => {
    const { bytes, corners } = tiledPdf(bands, { columns: 2, rows: 1, width: 190, height: 200, how: 'cut' });
    const found = arrangePages(await pagesOf(bytes));
    expect(found.how).toBe('line-ends');
    expect(misplaced(found, corners)).toBeLessThan(0.01);
    expect(found.joined).toEqual([]);
    expect(found.notes.join(' ')).toContain('Look whether they lie right.');
  });

  it('rows that are sure in themselves but not to each other are not called sure, and it is told', async () => {
    // Aslant over the border between columns, squarely over the one between rows: how far rows overlap cannot be known.
    const aslant = [40, 70, 240, 280].map(
      (y): SheetLine => ({
        path: [line({ x: 10 + y / 10, y }, { x: 310, y: y + 40 })],
      }),
    );
    const square = [50, 90, 260, 300].map((x): SheetLine => ({ path: [line({ x, y: 150 }, { x, y: 230 })] }));
    const wish: TileWish = { columns: 2, rows: 2, width: 190, height: 200, overlap: 10, how: 'cut' };
    const { bytes, corners } = tiledPdf([...aslant, ...square], wish);
    const found = arrangePages(await pagesOf(bytes));
    expect(misplaced({ ...found, places: found.places.slice(0, 2) }, corners)).toBeLessThan(0.05);
    expect(misplaced({ ...found, places: found.places.slice(2) }, corners)).toBeLessThan(0.05);
    expect(misplaced(found, corners)).toBeCloseTo(10, 1);
    expect(found.joined).toEqual([1, 2]);
    expect(found.notes).toContain(
      'Pages 3 and 4 are joined surely to each other, but to the rest of the sheet by very few lines only. Look whether they lie right there.',
    );
  });

  it.each([
    [0.05, [1, 2]],
    [0.25, []],
  ])('two line ends that meet within %d mm: sure only where programs could have rounded so', async (off, joined) => {
    const drawn = (lines: readonly (readonly [number, number, number, number])[]) => ({
      content: lines.map(([a, b, c, d]) => `${a * pt} ${(300 - b) * pt} m ${c * pt} ${(300 - d) * pt} l S`).join(' '),
      mediaBox: [0, 0, 200 * pt, 300 * pt] as const,
    });
    const left = drawn([
      [100, 50, 200, 60],
      [90, 150, 200, 172],
    ]);
    const right = drawn([
      [0, 60, 80, 68],
      [0, 172 + off, 100, 192 + off],
    ]);
    const found = arrangePages(await pagesOf(pdfFile([left, right])));
    expect(found.joined).toEqual(joined);
    expect(found.places[1]!.at.x - found.places[0]!.at.x).toBeCloseTo(200, 0);
    expect(found.worst).toBeCloseTo(off, 3);
  });

  it('line ends that meet elsewhere than where the same drawing lies on both pages are not believed', async () => {
    // Five sizes of a piece, and the same again one page to the right: each copy may be taken for the other.
    const sizes = [0, 1, 2, 3, 4].flatMap((i) =>
      [0, 190].map((by): SheetLine => {
        const at = ({ x, y }: Point) => ({
          x: 78.16 + by + 0.6374 * (1 + 0.03 * i) * (x - 40),
          y: 29.39 + 0.3827 * (1 + 0.03 * i) * (y - 35),
        });
        const path = bodice.map((s) =>
          s.kind === 'line'
            ? line(at(s.start), at(s.end))
            : cubic(at(s.start), at(s.control1), at(s.control2), at(s.end)),
        );
        return { path };
      }),
    );
    const wish: TileWish = { columns: 3, rows: 2, width: 190, height: 150, how: 'window' };
    const { bytes, corners } = tiledPdf(sizes, wish);
    const found = arrangePages(await pagesOf(bytes));
    for (const row of [found.places.slice(0, 3), found.places.slice(3)]) {
      expect(misplaced({ ...found, places: row }, corners)).toBeLessThan(0.05);
    }
    // The rows come to lie wrong, so they must not be called sure of each other.
    const sure = found.places.filter(({ page }) => found.joined.includes(page));
    expect(misplaced({ ...found, places: sure }, corners)).toBeLessThan(0.05);
  });

  it('the same drawing on both pages, but less than 50 mm of it: laid, not sure', async () => {
    const short: SheetLine = { path: [line({ x: 175, y: 60 }, { x: 205, y: 71 })] };
    const { bytes, corners } = tiledPdf([short], { columns: 2, rows: 1, width: 190, height: 200, how: 'window' });
    const found = arrangePages(await pagesOf(bytes));
    expect(found).toMatchObject({ how: 'same-drawing', joined: [] });
    expect(misplaced(found, corners)).toBeLessThan(0.01);
  });

  it('a band laid across a row of pages is no frame of the pages, although those in the middle show the same line', async () => {
    const across = [50, 90].map((y): SheetLine => ({ path: [line({ x: 20, y }, { x: 740, y })] }));
    const aslant = [110, 150].map((y): SheetLine => ({ path: [line({ x: 30, y }, { x: 720, y: y + 30 })] }));
    const wish: TileWish = { columns: 4, rows: 1, width: 190, height: 200, how: 'cut' };
    const { bytes, corners } = tiledPdf([...across, ...aslant], wish);
    const pages = await pagesOf(bytes);
    const found = arrangePages(pages);
    expect(misplaced(found, corners)).toBeLessThan(0.05);
    const laid = layPages(pages, found.places);
    if (!laid.ok) throw new Error(laid.sentence);
    const lengths = laid.value.shapes.map(({ path }) => Math.round(pathLength(path)));
    expect(lengths.sort((a, b) => a - b)).toEqual([691, 691, 720, 720]);
  });

  it('a line that ends within the overlap is drawn once', async () => {
    const ending: SheetLine = { path: [line({ x: 184, y: 300 }, { x: 260, y: 320 })], look: '0 1 0 RG' };
    const { bytes } = tiledPdf([...gradedSheet(), ending], { ...grid, overlap: 10 });
    const pages = await pagesOf(bytes);
    const laid = layPages(pages, arrangePages(pages).places);
    if (!laid.ok) throw new Error(laid.sentence);
    const green = laid.value.shapes.filter(({ colour }) => colour === '#00ff00');
    expect(green.map(({ path }) => pathLength(path))).toEqual([expect.closeTo(Math.hypot(76, 20), 2)]);
  });

  it('R31 nothing in common: side by side, and told', async () => {
    const alone = (x: number): SheetLine => ({ path: [line({ x, y: 50 }, { x: x + 100, y: 90 })] });
    const { bytes } = tiledPdf([alone(20), alone(220)], { columns: 2, rows: 1, width: 190, height: 200, how: 'cut' });
    const found = arrangePages(await pagesOf(bytes));
    expect(found).toMatchObject({ how: 'side-by-side', worst: 0, joined: [] });
    expect(found.places.map(({ at }) => at)).toEqual([
      { x: 0, y: 0 },
      { x: expect.closeTo(210, 3), y: 0 },
    ]);
    expect(found.notes).toEqual([
      'Pages 1 and 2 are not joined to any other; lay them by hand if they belong to the sheet.',
    ]);
  });

  it('row and column written on them: laid by these, and told', async () => {
    const dots: SheetLine[] = [0, 1, 2, 3].map((i) => ({
      path: [
        line(
          { x: 50 + 200 * (i % 2), y: 50 + 210 * (i >> 1) },
          { x: 90 + 10 * i + 200 * (i % 2), y: 80 + 210 * (i >> 1) },
        ),
      ],
    }));
    const wish: TileWish = {
      columns: 2,
      rows: 2,
      width: 190,
      height: 200,
      how: 'cut',
      words: (row, column) => `row ${row + 1} column ${column + 1}`,
    };
    const { bytes, corners } = tiledPdf(dots, wish);
    const found = arrangePages(await pagesOf(bytes));
    expect(found.how).toBe('labels');
    expect(misplaced(found, corners)).toBeLessThan(0.01);
    expect(found.joined).toEqual([]);
    expect(found.notes.join(' ')).toContain('written on them only');
  });

  it('single lines over every border, empty pages between: all where they belong, but told', async () => {
    const mark: SheetLine = { path: [line({ x: 180, y: 270 }, { x: 190, y: 276 })] };
    const wish: TileWish = { columns: 4, rows: 6, width: 80, height: 90, margin: 5, how: 'cut' };
    const { bytes, corners } = tiledPdf([{ path: bodice }, mark], wish);
    const found = arrangePages(await pagesOf(bytes));
    const off = found.places.map(
      ({ page, at }) => [page, at.x - corners[page - 1]!.x, at.y - corners[page - 1]!.y] as const,
    );
    const right = off.filter(([, x, y]) => Math.hypot(x - off[1]![1], y - off[1]![2]) < 0.05).map(([page]) => page);
    // Page 8 begins at a corner of the outline, which lies on the border: nothing tells that it goes on from page 4.
    for (const page of [2, 3, 4, 5, 6, 9, 13, 17, 21, 22, 23, 24]) expect(right).toContain(page);
    const byOrder = found.notes.find((text) => text.includes('by the order of the pages only'))!;
    for (const page of byOrder.match(/\d+/g)!) expect(right).toContain(Number(page));
    expect(found.joined).not.toContain(15);
    expect(found.notes.join(' ')).toContain('not joined to any other');
  });

  it('pieces that repeat at the step of the pages: the order of the file tells them apart', async () => {
    const again = (x: number, y: number): SheetLine => ({
      path: [
        line({ x: x + 20, y: y + 30 }, { x: x + 150, y: y + 20 }),
        line({ x: x + 150, y: y + 20 }, { x: x + 165, y: y + 330 }),
        line({ x: x + 165, y: y + 330 }, { x: x + 25, y: y + 345 }),
        line({ x: x + 25, y: y + 345 }, { x: x + 20, y: y + 30 }),
      ],
    });
    const sheet = [0, 1, 2].flatMap((i) => [0, 1].map((j) => again(190 * i + 60, 380 * j)));
    const wish: TileWish = { columns: 4, rows: 4, width: 190, height: 190, margin: 10, how: 'cut' };
    const { bytes, corners } = tiledPdf(sheet, wish);
    const found = arrangePages(await pagesOf(bytes));
    // Nothing links the second row to the third: two sheets, in each of which every page lies where it belongs.
    for (const half of [found.places.slice(0, 8), found.places.slice(8)]) {
      expect(misplaced({ ...found, places: half }, corners)).toBeLessThan(0.05);
    }
    expect(found.joined).toEqual([]);
    expect(found.notes.join(' ')).toContain('2 separate sheets');
  });

  it('ticks and letters that end within the overlap do not count against a join', async () => {
    const ticks = Array.from({ length: 400 }, (_, i): SheetLine => {
      const x = (i * 37.7) % 360;
      const y = (i * 91.3) % 580;
      return { path: [line({ x, y }, { x: x + 3 + (i % 4), y: y + 2 + (i % 5) })] };
    });
    const { bytes, corners } = tiledPdf([...gradedSheet(), ...ticks], { ...grid, overlap: 10 });
    const found = arrangePages(await pagesOf(bytes));
    expect(found.joined).toEqual([1, 2, 3, 4, 5, 6]);
    expect(misplaced(found, corners)).toBeLessThan(0.05);
  });

  it('places written to a hundredth of a point are good enough', async () => {
    const { bytes, corners } = tiledPdf(gradedSheet(), { ...grid, overlap: 10, digits: 2 });
    const found = arrangePages(await pagesOf(bytes));
    expect(found.joined).toEqual([1, 2, 3, 4, 5, 6]);
    expect(misplaced(found, corners)).toBeLessThan(0.1);
  });

  it('one piece shown on two pages is not laid on itself', async () => {
    const one = tiledPdf([{ path: bodice }], { columns: 1, rows: 1, width: 400, height: 560, how: 'window' });
    const [page] = await pagesOf(one.bytes);
    const again: PdfPage = { ...page!, number: 2, shapes: page!.shapes.map((s) => ({ ...s, id: `again-${s.id}` })) };
    const found = arrangePages([page!, again]);
    expect(found.how).toBe('side-by-side');
    const laid = layPages([page!, again], found.places);
    expect(laid.ok && laid.value.shapes.length).toBe(2);
  });
});

describe('pages that share nothing but match marks', () => {
  it('whole marks on both pages: our own print without its pattern lines', async () => {
    const plan = planned([printable(rectangle(330, 610))], { paper: paperNamed('A4') });
    const pages = await pagesOf(await drawPdf(plan));
    const bare = pages.map((page) => ({
      ...page,
      shapes: page.shapes.filter((s) => s.colour === '#5f5f5f' && s.closed),
    }));
    const whole = arrangePages(pages);
    const found = arrangePages(bare);
    expect(found.how).toBe('marks');
    expect(found.joined).toEqual(pages.slice(1).map(({ number }) => number));
    // Two marks of one shape on all pages are 0.0001 mm apart at most; the pattern lines say the same.
    const corners = whole.places.map(({ at }) => at);
    expect(misplaced({ ...found, places: found.places.slice(1) }, corners)).toBeLessThan(0.01);
  });

  it('halves of marks, cut at the border', async () => {
    // Two pages, right and left; triangles with their base on the border, numbered.
    const half = (x: number, y: number, deep: number, word: string) =>
      `${x * pt} ${(y - 5) * pt} m ${x * pt} ${(y + 5) * pt} l ${(x + deep) * pt} ${y * pt} l h S BT /F1 8 Tf ${(x + deep / 2 - 1) * pt} ${(y - 1) * pt} Td (${word}) Tj ET`;
    const page = (x: number, deep: number, down: number) => ({
      content: `${half(x, 60 + down, deep, '7')} ${half(x, 220 + down, deep, '8')}`,
      mediaBox: [0, 0, 210 * pt, 297 * pt] as const,
    });
    const found = arrangePages(await pagesOf(pdfFile([page(200, -5, 0), page(10, 5, 1.5)])));
    expect(found).toMatchObject({ how: 'marks', joined: [1, 2] });
    expect(found.places[1]!.at.x - found.places[0]!.at.x).toBeCloseTo(190, 2);
    expect(found.places[1]!.at.y - found.places[0]!.at.y).toBeCloseTo(1.5, 2);
  });

  it('one mark alone is not sure, a number on three pages says nothing', async () => {
    const circle = (x: number, y: number, word: string) =>
      `${(x - 4) * pt} ${(y - 4) * pt} ${8 * pt} ${8 * pt} re S BT /F1 8 Tf ${(x - 1) * pt} ${(y - 1) * pt} Td (${word}) Tj ET`;
    const mediaBox = [0, 0, 210 * pt, 297 * pt] as const;
    const one = await pagesOf(
      pdfFile([
        { content: circle(200, 99, '3'), mediaBox },
        { content: circle(10, 99, '3'), mediaBox },
      ]),
    );
    expect(arrangePages(one)).toMatchObject({ how: 'marks', joined: [] });
    const three = await pagesOf(
      pdfFile([200, 10, 10].map((x, i) => ({ content: circle(x, 99 + 30 * i, '3'), mediaBox }))),
    );
    expect(arrangePages(three).how).toBe('side-by-side');
  });
});

describe('a page dragged by hand', () => {
  it.each(['cut', 'window'] as const)('snaps to where its lines meet (%s)', async (how) => {
    const { bytes, corners } = tiledPdf(gradedSheet(), { ...grid, how });
    const pages = await pagesOf(bytes);
    const places = corners.map((at, i) => ({ page: i + 1, at }));
    const right = corners[3]!;
    const snap = snapPage(pages, places, 4, { x: right.x + 2.3, y: right.y - 3.1 }, 6);
    expect(Math.hypot(snap!.at.x - right.x, snap!.at.y - right.y)).toBeLessThan(0.05);
    expect(snap!.matches).toBeGreaterThan(2);
    expect(snap!.worst).toBeLessThan(0.05);
  });

  it('stays where it is when nothing is near', async () => {
    const { bytes, corners } = tiledPdf(gradedSheet(), grid);
    const pages = await pagesOf(bytes);
    const places = corners.map((at, i) => ({ page: i + 1, at }));
    expect(snapPage(pages, places, 4, { x: 2000, y: 2000 }, 6)).toBeNull();
  });
});
