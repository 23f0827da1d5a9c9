import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { arrangePages } from '../../../src/exchange/pdf/arrangePages';
import { layPages } from '../../../src/exchange/pdf/layPages';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { pathBounds } from '../../../src/geometry/bounds';
import { requirePoppler } from '../../print/support/poppler';
import { pdfFile, pt, type TestPage } from './pdfText';

/** Sizes of the pages as poppler's pdfinfo states them, mm: the crop box, turned as the file says. */
function popplerSizes(pdf: Uint8Array): number[][] {
  const folder = mkdtempSync(join(tmpdir(), 'pdf-test-'));
  try {
    const file = join(folder, 'in.pdf');
    writeFileSync(file, pdf);
    const told = execFileSync('pdfinfo', ['-f', '1', '-l', '99', '-box', file], { encoding: 'utf8' });
    const sizes = [...told.matchAll(/Page +\d+ size: +([\d.]+) x ([\d.]+) pts/g)].map(([, x, y]) => [
      Number(x),
      Number(y),
    ]);
    const turns = [...told.matchAll(/Page +\d+ rot: +(\d+)/g)].map(([, turn]) => Number(turn));
    return sizes.map((size, i) => (turns[i]! % 180 === 0 ? size : [...size].reverse()).map((side) => side / pt));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

beforeAll(requirePoppler);

/**
 * A page of 120 by 160 mm, with the same line 30 mm from its left and 40 mm from its upper edge as it is looked at,
 * written so that the file must turn it by `turn` and crop it out of a larger sheet.
 */
function turnedPage(turn: 0 | 90 | 180 | 270, cropped: boolean, unit: number): TestPage {
  const [width, height] = [120, 160];
  const off = cropped ? 15 : 0;
  const at = (x: number, y: number) => {
    // Clockwise turns (ISO 32000-1, table 30) undone; y runs up in the file.
    const [u, v] =
      turn === 0 ? [x, height - y] : turn === 90 ? [y, x] : turn === 180 ? [width - x, y] : [height - y, width - x];
    return [u + off, v + off].map((n) => ((n * pt) / unit).toFixed(5)).join(' ');
  };
  const sides = turn % 180 === 0 ? [width, height] : [height, width];
  const box = (by: number, around: number) =>
    [by, by, by + sides[0]! + around, by + sides[1]! + around].map((n) => (n * pt) / unit).join(' ');
  const mediaBox = box(0, 2 * off)
    .split(' ')
    .map(Number) as unknown as [number, number, number, number];
  const crop = cropped ? `/CropBox [${box(off, 0)}]` : '';
  return {
    content: `${at(30, 40)} m ${at(100, 60)} l S`,
    mediaBox,
    extra: `/Rotate ${turn} ${crop} ${unit === 1 ? '' : `/UserUnit ${unit}`}`,
  };
}

const kinds = ([0, 90, 180, 270] as const).flatMap((turn) => [false, true].map((cropped) => [turn, cropped] as const));

describe('R37 pages that are turned, cropped and in units of their own', () => {
  it.each(kinds)(
    'turned by %d degrees, cropped: %s: the page as poppler has it, the line where it belongs',
    async (turn, cropped) => {
      for (const unit of [1, 2.5]) {
        const bytes = pdfFile([turnedPage(turn, cropped, unit)]);
        const read = await readPdf(bytes);
        if (!read.ok) throw new Error(read.sentence);
        const [page] = read.value.pages;
        // Poppler 22.12 leaves the unit of the page out of its sizes; ISO 32000-1, table 30 multiplies by it.
        const [size] = popplerSizes(bytes);
        expect(page!.width).toBeCloseTo(size![0]! * unit, 1);
        expect(page!.height).toBeCloseTo(size![1]! * unit, 1);
        const { start, end } = page!.shapes[0]!.path[0]!;
        const wanted = [30, 40, 100, 60];
        [start.x, start.y, end.x, end.y].forEach((n, i) => {
          expect(Math.abs(n - wanted[i]!)).toBeLessThan(0.001);
        });
        expect(page!.shapes[0]!.seen).not.toBeNull();
      }
    },
  );

  it('in one file, of several sizes: laid together where their lines meet', async () => {
    // Three pages in a row: 120 by 160 mm turned, 120 by 160 cropped, 240 by 160 in units of two points.
    const drawn = (
      lines: readonly (readonly [number, number, number, number])[],
      height: number,
      write: (x: number, y: number) => string,
    ) => lines.map(([a, b, c, d]) => `${write(a, height - b)} m ${write(c, height - d)} l S`).join(' ');
    const plain = (x: number, y: number) => `${(x * pt).toFixed(5)} ${(y * pt).toFixed(5)}`;
    // Left page: a quarter turn clockwise when looked at: (x, y down) is written at (y down, x).
    const left: TestPage = {
      content: [
        [10, 30, 120, 41],
        [10, 120, 120, 131],
        [60, 100, 66, 140],
      ]
        .map(([a, b, c, d]) => `${plain(b!, a!)} m ${plain(d!, c!)} l S`)
        .join(' '),
      mediaBox: [0, 0, 160 * pt, 120 * pt],
      extra: '/Rotate 90',
    };
    const right: TestPage = {
      content: drawn(
        [
          [0, 41, 100, 51],
          [0, 131, 100, 141],
          [100, 51, 120, 53],
          [100, 141, 120, 143],
        ],
        160,
        (x, y) => plain(x + 20, y + 20),
      ),
      mediaBox: [0, 0, 160 * pt, 200 * pt],
      extra: `/CropBox [${20 * pt} ${20 * pt} ${140 * pt} ${180 * pt}]`,
    };
    // A line of half a unit is as wide as one of a point on the other pages.
    const wide: TestPage = {
      content: `0.5 w ${drawn(
        [
          [0, 53, 200, 73],
          [0, 143, 60, 149],
        ],
        160,
        (x, y) => `${((x * pt) / 2).toFixed(5)} ${((y * pt) / 2).toFixed(5)}`,
      )}`,
      mediaBox: [0, 0, 120 * pt, 80 * pt],
      extra: '/UserUnit 2',
    };
    const read = await readPdf(pdfFile([left, right, wide]));
    if (!read.ok) throw new Error(read.sentence);
    const { pages } = read.value;
    expect(pages.map(({ width, height }) => [Math.round(width), Math.round(height)])).toEqual([
      [120, 160],
      [120, 160],
      [240, 160],
    ]);
    const found = arrangePages(pages);
    const at = found.places.map((place) => place.at);
    const wanted = [
      [120, 0],
      [240, 0],
    ];
    wanted.forEach(([x, y], i) => {
      expect(Math.abs(at[i + 1]!.x - at[0]!.x - x!)).toBeLessThan(0.05);
      expect(Math.abs(at[i + 1]!.y - at[0]!.y - y!)).toBeLessThan(0.05);
    });
    const laid = layPages(pages, found.places);
    if (!laid.ok) throw new Error(laid.sentence);
    // What was cut at the two borders is whole again; lines that end on a page stay apart from those that begin there.
    const boxes = laid.value.shapes.map(({ path }) => pathBounds(path));
    expect(boxes.map(({ minX, maxX }) => Math.round(maxX - minX)).sort((a, b) => a - b)).toEqual([
      6, 80, 210, 210, 220,
    ]);
    expect(found.joined).toEqual([1, 2, 3]);
  });
});
