import * as library from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { op } from '../../../src/exchange/pdf/operators';
import type { PdfPage, PdfReading } from '../../../src/exchange/pdf/pdfReading';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { pdfFile, pt, type TestObject, type TestPage } from './pdfText';

async function read(
  pages: readonly TestPage[],
  objects: readonly TestObject[] = [],
  catalog = '',
): Promise<PdfReading> {
  const outcome = await readPdf(pdfFile(pages, objects, catalog));
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

async function readPage(
  content: string,
  more: Omit<TestPage, 'content'> = {},
  objects: readonly TestObject[] = [],
): Promise<PdfPage> {
  return (await read([{ content, ...more }], objects)).pages[0]!;
}

const ends = (page: PdfPage, i = 0) => {
  const { path } = page.shapes[i]!;
  return [path[0]!.start, path.at(-1)!.end].flatMap(({ x, y }) => [x, y]);
};

function near(found: readonly number[], wanted: readonly number[], within = 1e-3): void {
  expect(found.length).toBe(wanted.length);
  found.forEach((value, i) => {
    expect(Math.abs(value - wanted[i]!)).toBeLessThan(within);
  });
}

describe('the numbers of the drawing operators', () => {
  it('are those of the library', () => {
    for (const [name, number] of Object.entries(op)) {
      expect([name, library.OPS[name as keyof typeof library.OPS]]).toEqual([name, number]);
    }
  });
});

describe('lines of a page', () => {
  it('come in mm from the upper left corner, y down', async () => {
    // 1 in from the left, 2 in from the foot of an A4 page of 841.89 pt; 72 pt to the inch (ISO 32000-1, 8.3.2.3).
    const page = await readPage('72 144 m 216 144 l S');
    near([page.width, page.height], [210, 297], 0.01);
    near(ends(page), [25.4, (841.89 - 144) / pt, 76.2, (841.89 - 144) / pt]);
    expect(page.shapes[0]).toMatchObject({ id: 'page-1-shape-1', closed: false, colour: '#000000', strokeDash: null });
  });

  it('keep colour, dash and width, scaled with the drawing', async () => {
    const page = await readPage(
      '1 0 0 RG 2 w [6 3] 0 d 10 10 m 100 10 l S q 2 0 0 2 0 0 cm 0 0 1 RG 10 30 m 50 30 l S Q 10 90 m 100 90 l S',
    );
    expect(page.shapes.map(({ colour, strokeDash, lineWidth }) => [colour, strokeDash, lineWidth])).toEqual([
      ['#ff0000', '2.117 1.058', 0.706],
      ['#0000ff', '4.233 2.117', 1.411],
      ['#ff0000', '2.117 1.058', 0.706],
    ]);
  });

  it('take dash and width from a dictionary of settings', async () => {
    const page = await readPage('/G1 gs 10 10 m 100 10 l S', {
      resources: '/ExtGState << /G1 << /LW 3 /D [[9 9] 0] >> >>',
    });
    expect(page.shapes[0]).toMatchObject({ lineWidth: 1.058, strokeDash: '3.175 3.175' });
  });

  it('become cubics where they are curves, closed where they are closed', async () => {
    const page = await readPage(
      '10 10 m 40 60 80 60 110 10 c h S 200 200 60 40 re S 10 300 m 60 300 l 60 350 l 10 300 l S',
    );
    expect(page.shapes.map(({ closed, path }) => [closed, path.map((s) => s.kind).join(' ')])).toEqual([
      [true, 'cubic line'],
      [true, 'line line line line'],
      [true, 'line line line'],
    ]);
  });

  it('are split where the pen is lifted', async () => {
    const page = await readPage('10 10 m 100 10 l 10 20 m 100 20 l S');
    expect(page.shapes.map(({ id }) => id)).toEqual(['page-1-shape-1', 'page-1-shape-2']);
  });

  it('leave out white, see-through and page-wide colour, and say so', async () => {
    const { pages, warnings } = await read([
      {
        content:
          '0.9 0.95 1 rg 0 0 596 842 re f 1 g 50 50 200 200 re f 1 G 10 10 m 90 10 l S /Z gs 0 G 10 30 m 90 30 l S 10 50 m 90 50 l S',
        resources: '/ExtGState << /Z << /CA 0 >> >>',
      },
      { content: '10 10 m 100 10 l S' },
    ]);
    expect(pages[0]!.shapes).toEqual([]);
    expect(warnings).toEqual([
      '1 page-wide area of colour was left out.',
      '4 white or see-through shapes were left out.',
    ]);
  });

  it('read an area of colour by its outline', async () => {
    const page = await readPage('0 0.5 0 rg 10 10 m 100 10 l 100 60 l f');
    expect(page.shapes[0]).toMatchObject({ closed: true, filled: true, colour: '#008000', lineWidth: 0 });
    expect(page.shapes[0]!.path.length).toBe(3);
  });
});

describe('the page as it is looked at', () => {
  it('is what the crop box leaves', async () => {
    const page = await readPage('100 100 m 200 100 l S', { extra: '/CropBox [72 72 372 572]' });
    near([page.width, page.height], [300 / pt, 500 / pt]);
    near(ends(page), [28 / pt, (572 - 100) / pt, 128 / pt, (572 - 100) / pt]);
  });

  it('is turned as the file says', async () => {
    // A quarter turn clockwise: what was the left edge is the top (ISO 32000-1, table 30).
    const page = await readPage('100 50 m 200 50 l S', { extra: '/Rotate 90', mediaBox: [0, 0, 300, 400] });
    near([page.width, page.height], [400 / pt, 300 / pt]);
    near(ends(page), [50 / pt, 100 / pt, 50 / pt, 200 / pt]);
  });

  it('is as large as its own unit says', async () => {
    // UserUnit 10: ten points to the unit (ISO 32000-1, table 30).
    const page = await readPage('10 10 m 50 10 l S', { extra: '/UserUnit 10', mediaBox: [0, 0, 100, 100] });
    near([page.width, ...ends(page)], [1000 / pt, 100 / pt, 900 / pt, 500 / pt, 900 / pt]);
  });

  it('shows nothing outside its windows, which is remembered', async () => {
    const page = await readPage(
      'q 100 100 100 100 re W n 0 150 m 300 150 l S 0 400 m 300 400 l S 0 500 m 30 500 l S Q 0 50 m 90 50 l S',
    );
    // The short line that nobody sees is not kept.
    expect(page.shapes.length).toBe(3);
    near(Object.values(page.shapes[0]!.seen!), [100 / pt, (841.89 - 150) / pt, 200 / pt, (841.89 - 150) / pt]);
    expect(page.shapes[1]!.seen).toBeNull();
    near(ends(page), [0, (841.89 - 150) / pt, 300 / pt, (841.89 - 150) / pt]);
    expect(page.shapes[2]!.seen).not.toBeNull();
  });
});

describe('drawings inside the drawing', () => {
  const form = (number: number, dictionary: string, stream: string): TestObject => ({
    number,
    dictionary: `/Type /XObject /Subtype /Form /BBox [0 0 1000 1000] ${dictionary}`,
    stream,
  });

  it('are followed with their matrices, one in the other', async () => {
    const page = await readPage(
      'q 1 0 0 1 50 0 cm /A Do Q 10 10 m 20 10 l S',
      { resources: '/XObject << /A 100 0 R >>' },
      [
        form(
          100,
          '/Matrix [2 0 0 2 0 0] /Resources << /XObject << /B 101 0 R >> >>',
          '1 0 0 RG 0 10 m 10 10 l S /B Do',
        ),
        form(101, '/Matrix [0 1 -1 0 0 0]', '5 0 m 9 0 l S'),
      ],
    );
    // A: (0,10) -> (0,20) -> (50,20). B: (5,0) -> (0,5) -> (0,10) -> (50,10), going up.
    near(ends(page, 0), [50 / pt, (841.89 - 20) / pt, 70 / pt, (841.89 - 20) / pt]);
    near(ends(page, 1), [50 / pt, (841.89 - 10) / pt, 50 / pt, (841.89 - 18) / pt]);
    // What a form sets is forgotten at its end.
    expect(page.shapes.map(({ colour }) => colour)).toEqual(['#ff0000', '#ff0000', '#000000']);
  });

  it('are followed as see-through groups, but not where they only make a mask', async () => {
    const page = await readPage(
      '/A Do /M gs 10 10 m 20 10 l S',
      {
        resources: '/XObject << /A 100 0 R >> /ExtGState << /M << /SMask << /S /Luminosity /G 101 0 R >> >> >>',
      },
      [
        form(100, '/Group << /S /Transparency >> /Matrix [1 0 0 1 30 0]', '0 10 m 10 10 l S'),
        form(101, '/Group << /S /Transparency /CS /DeviceGray >>', '0 0 m 500 500 l S'),
      ],
    );
    expect(page.shapes.length).toBe(2);
    near(ends(page, 0), [30 / pt, (841.89 - 10) / pt, 40 / pt, (841.89 - 10) / pt]);
    near(ends(page, 1), [10 / pt, (841.89 - 10) / pt, 20 / pt, (841.89 - 10) / pt]);
  });
});

describe('layers', () => {
  const catalog = '/OCProperties << /OCGs [100 0 R 101 0 R] /D << /OFF [101 0 R] /Order [100 0 R 101 0 R] >> >>';
  const groups: TestObject[] = [
    { number: 100, dictionary: '<< /Type /OCG /Name (Size 12) >>' },
    { number: 101, dictionary: '<< /Type /OCG /Name (Size 14) >>' },
    { number: 102, dictionary: '<< /Type /OCMD /OCGs [101 0 R 100 0 R] >>' },
  ];
  const resources = '/Properties << /L1 100 0 R /L2 101 0 R /L3 102 0 R >>';

  it('are read by name, those switched off too, with a word', async () => {
    const { pages, warnings } = await read(
      [
        {
          content:
            '/OC /L1 BDC 10 10 m 90 10 l S /Span BMC 10 20 m 90 20 l S EMC EMC /OC /L2 BDC 10 30 m 90 30 l S EMC /OC /L3 BDC 10 40 m 90 40 l S EMC 10 50 m 90 50 l S',
          resources,
        },
      ],
      groups,
      catalog,
    );
    expect(pages[0]!.shapes.map(({ layer }) => layer)).toEqual(['Size 12', 'Size 12', 'Size 14', 'Size 14', null]);
    expect(warnings).toEqual(['1 line lies on layers that are switched off in the file; they are read all the same.']);
  });
});

describe('words', () => {
  it('stand where they are drawn, letters placed one by one put together', async () => {
    const page = await readPage(
      'BT /F1 12 Tf 100 700 Td (Bodice) Tj 80 0 Td [(fr) 20 (ont)] TJ ET BT /F1 12 Tf 1 0 0 1 100 600 Tm (S) Tj ET BT /F1 12 Tf 1 0 0 1 108 600 Tm (i) Tj ET BT /F1 12 Tf 1 0 0 1 110.7 600 Tm (ze) Tj ET 3 Tr BT 1 0 0 1 100 500 Tm (hidden) Tj ET 10 10 m 90 10 l S',
    );
    expect(page.texts.map(({ words }) => words)).toEqual(['Bodice', 'front', 'Size']);
    near([page.texts[0]!.x, page.texts[0]!.y, page.texts[0]!.size], [100 / pt, (841.89 - 700) / pt, 12 / pt]);
  });

  it('near a piece are offered as its name', async () => {
    const page = await readPage('50 50 300 400 re S BT /F1 20 Tf 120 200 Td (Skirt front) Tj ET 400 800 30 20 re S');
    expect(page.shapes.map(({ nearText }) => nearText)).toEqual(['Skirt front', null]);
  });

  it('near a piece that say a length are not its name', async () => {
    const page = await readPage('50 50 300 400 re S BT /F1 20 Tf 120 200 Td (5 cm) Tj 0 200 Td (Pocket) Tj ET');
    expect(page.shapes.map(({ nearText }) => nearText)).toEqual(['Pocket']);
    const alone = await readPage('50 50 300 400 re S BT /F1 20 Tf 120 200 Td (Test square 50 mm) Tj ET');
    expect(alone.shapes.map(({ nearText }) => nearText)).toEqual([null]);
  });
});

describe('pages that are pictures', () => {
  const image: TestObject = {
    number: 100,
    dictionary: '/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8',
    stream: '\u0000\u0080\u00ff\u0040',
  };

  it('are told from pages with lines', async () => {
    const { pages } = await read(
      [
        { content: 'q 595 0 0 842 0 0 cm /I Do Q', resources: '/XObject << /I 100 0 R >>' },
        { content: 'q 595 0 0 842 0 0 cm /I Do Q 50 50 300 300 re S', resources: '/XObject << /I 100 0 R >>' },
        { content: 'q 100 0 0 100 50 50 cm /I Do Q', resources: '/XObject << /I 100 0 R >>' },
      ],
      [image],
    );
    expect(pages.map(({ rasterOnly }) => rasterOnly)).toEqual([true, false, false]);
    expect(pages[0]!.pictures[0]!.share).toBeGreaterThan(0.99);
    near(Object.values(pages[2]!.pictures[0]!.box), [50 / pt, (841.89 - 150) / pt, 150 / pt, (841.89 - 50) / pt]);
  });
});
