import { describe, expect, it } from 'vitest';
import { findTestSquare } from '../../../src/exchange/pdf/findTestSquare';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { statedSizes } from '../../../src/exchange/pdf/statedSize';
import type { TestSquare } from '../../../src/exchange/pdf/testSquare';
import { pdfFile, pt, type TestPage } from './pdfText';

async function squareOf(...pages: readonly string[]): Promise<TestSquare | null> {
  const read = await readPdf(pdfFile(pages.map((content): TestPage => ({ content }))));
  if (!read.ok) throw new Error(read.sentence);
  return findTestSquare(read.value.pages);
}

const square = (mm: number, x = 20, y = 20, tall = mm) => `${x * pt} ${y * pt} ${mm * pt} ${tall * pt} re S`;
const words = (text: string, x: number, y: number) => `BT /F1 10 Tf ${x * pt} ${y * pt} Td (${text}) Tj ET`;

describe('sizes as people write them', () => {
  it.each([
    ['10 cm', [100]],
    ['100mm', [100]],
    ['TEST SQUARE 5 cm x 5 cm', [50, 50]],
    ['10 x 10 cm', [100]],
    ['2,5 cm', [25]],
    ['4"', [101.6]],
    ['1 inch', [25.4]],
    ['2 inches', [50.8]],
    ['4 in square', [101.6]],
    ['Each side is 4 in (101.6 mm).', [101.6, 101.6]],
    ['size 12 in stock', [304.8]],
    ['cut 2, 1.5 cm allowance', [15]],
    ['Front 38', []],
  ])('%s', (text, sizes) => {
    const found = statedSizes(text);
    expect(found.length).toBe(sizes.length);
    found.forEach((size, i) => {
      expect(size).toBeCloseTo(sizes[i]!, 9);
    });
  });
});

describe('the test square', () => {
  it('that agrees with its words lets the scale be certain', async () => {
    const found = await squareOf(`${square(50)} ${words('Test square 5 x 5 cm', 22, 40)}`);
    expect(found).toMatchObject({ page: 1, stated: 50, agrees: true });
    expect(found!.measuredX).toBeCloseTo(50, 3);
    expect(Math.abs(found!.error)).toBeLessThan(1e-4);
    expect(found!.sentence).toBe(
      'The test square on page 1 says 50 mm and measures 50 by 50 mm in the file: it agrees within 0.00 %.',
    );
  });

  it('that does not agree says by how much and what would mend it', async () => {
    const found = await squareOf(`${square(97)} ${words('10 cm', 60, 60)}`);
    expect(found).toMatchObject({ stated: 100, agrees: false });
    expect(found!.error).toBeCloseTo(-0.03, 4);
    expect(found!.suggestion).toBeCloseTo(100 / 97, 4);
    expect(found!.sentence).toContain('3.00 % off');
  });

  it('that is stretched one way does not agree', async () => {
    const found = await squareOf(`${square(100, 20, 20, 101)} ${words('10 cm', 60, 60)}`);
    expect(found).toMatchObject({ agrees: false });
    expect(found!.error).toBeCloseTo(0.01, 4);
  });

  it('is found where it is drawn as four lines, on any page, its words beside it', async () => {
    const [a, b] = [20 * pt, 121.6 * pt];
    const lines = `${a} ${a} m ${b} ${a} l S ${a} ${b} m ${b} ${b} l S ${a} ${a} m ${a} ${b} l S ${b} ${a} m ${b} ${b} l S`;
    expect(await squareOf('5 5 m 90 90 l S', `${lines} ${words('4 inches', 125, 60)}`)).toMatchObject({
      page: 2,
      stated: expect.closeTo(101.6, 6),
      agrees: true,
    });
  });

  it('is the largest of several, each measured by its own words', async () => {
    const both = `${square(101.6, 20, 20)} ${words('4 in', 60, 60)} ${square(101.5, 20, 140)} ${words('10 cm', 60, 180)} ${square(25.4, 150, 20)} ${words('1"', 160, 30)}`;
    // 101.5 mm called 10 cm must not be taken for the 4 in beside it; the larger one is right.
    expect(await squareOf(both)).toMatchObject({ stated: expect.closeTo(101.6, 6), agrees: true });
    const wrong = `${square(101.5, 20, 140)} ${words('10 cm', 60, 180)} ${words('4 in', 60, 130)}`;
    expect(await squareOf(wrong)).toMatchObject({ stated: 100, agrees: false });
  });

  it.each([
    ['Test square 2 in x 2 in (5 cm x 5 cm)', 50, 50],
    ['5 cm / 2 in', 50.8, 50.8],
    ['4" or 10 cm', 100.2, 100],
  ])(
    'with two sizes beside it that are nearly one is compared with the nearer: %s, drawn %d mm',
    async (text, drawn, meant) => {
      const found = await squareOf(`${square(drawn)} ${words(text, 22, 40)}`);
      expect(found!.stated).toBeCloseTo(meant, 6);
      expect(found!.agrees).toBe(true);
    },
  );

  it('two sizes in two texts within it: the nearer one too', async () => {
    const inside = `${square(50)} ${words('2 inches', 24, 50)} ${words('5 cm', 24, 30)}`;
    expect(await squareOf(inside)).toMatchObject({ stated: 50, agrees: true });
    const nested = `${square(101.6, 20, 20)} ${square(100, 20.8, 20.8)} ${words('outer 4 in', 30, 60)} ${words('inner 10 cm', 30, 40)}`;
    expect(await squareOf(nested)).toMatchObject({ stated: expect.closeTo(101.6, 6), agrees: true });
  });

  it('without words is only mentioned', async () => {
    expect(await squareOf(square(100))).toMatchObject({ stated: null, error: 0, suggestion: 1 });
    expect(await squareOf(square(87))).toBeNull();
  });
});
