import jpeg from 'jpeg-js';
import { jsPDF } from 'jspdf';
import { describe, expect, it } from 'vitest';
import { rasterPage } from '../../../src/exchange/pdf/rasterPage';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { pdfFile, pt, type TestObject } from './pdfText';

/** A grey picture of 3 by 2 dots, row by row from the top. */
const greys = [0, 40, 80, 120, 160, 200];
const image: TestObject = {
  number: 100,
  dictionary: '/Type /XObject /Subtype /Image /Width 3 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8',
  stream: String.fromCharCode(...greys),
};
const resources = '/XObject << /I 100 0 R >>';

async function raster(content: string, extra = '', objects: readonly TestObject[] = [image], dpi = 254) {
  const found = await rasterPage(pdfFile([{ content, resources, extra }], objects), 1, dpi);
  if (!found.ok) throw new Error(found.sentence);
  const { picture, mmPerDotX, mmPerDotY } = found.value;
  const rows = Array.from({ length: picture.height }, (_, y) =>
    Array.from({ length: picture.width }, (_, x) => picture.data[4 * (y * picture.width + x)]!),
  );
  return { rows, mmPerDotX, mmPerDotY };
}

describe('a page that is one picture', () => {
  it('comes as the dots it holds, with the size it has on the page', async () => {
    const { rows, mmPerDotX, mmPerDotY } = await raster(`q ${30 * pt} 0 0 ${40 * pt} 100 100 cm /I Do Q`);
    expect(rows).toEqual([
      [0, 40, 80],
      [120, 160, 200],
    ]);
    expect(mmPerDotX).toBeCloseTo(10, 4);
    expect(mmPerDotY).toBeCloseTo(20, 4);
  });

  it('is turned and mirrored as it lies on the page', async () => {
    const turned = await raster(`q ${30 * pt} 0 0 ${40 * pt} 100 100 cm /I Do Q`, '/Rotate 90');
    // A quarter turn clockwise: the left column becomes the top row.
    expect(turned.rows).toEqual([
      [120, 0],
      [160, 40],
      [200, 80],
    ]);
    expect([turned.mmPerDotX, turned.mmPerDotY].map((n) => Math.round(n * 1000) / 1000)).toEqual([20, 10]);
    const mirrored = await raster(`q ${-30 * pt} 0 0 ${40 * pt} 300 100 cm /I Do Q`);
    expect(mirrored.rows[0]).toEqual([80, 40, 0]);
  });

  it('of one bit a dot is black and white, a mask too', async () => {
    const bits = (more: string): TestObject => ({
      number: 100,
      dictionary: `/Type /XObject /Subtype /Image /Width 10 /Height 2 /BitsPerComponent 1 ${more}`,
      stream: '\u00aa\u0080\u0055\u0040',
    });
    const content = `q ${100 * pt} 0 0 ${20 * pt} 100 100 cm /I Do Q`;
    const wanted = [
      [255, 0, 255, 0, 255, 0, 255, 0, 255, 0],
      [0, 255, 0, 255, 0, 255, 0, 255, 0, 255],
    ];
    expect((await raster(content, '', [bits('/ColorSpace /DeviceGray')])).rows).toEqual(wanted);
    expect((await raster(content, '', [bits('/ImageMask true')])).rows).toEqual(wanted);
  });

  it('saved as JPEG comes as another decoder reads it', async () => {
    const [width, height] = [160, 120];
    const data = Buffer.alloc(width * height * 4, 255);
    for (let i = 0; i < width * height; i++) {
      data[4 * i] = i % width;
      data[4 * i + 1] = 2 * Math.floor(i / width);
      data[4 * i + 2] = 90;
    }
    const file = jpeg.encode({ width, height, data }, 92).data;
    const doc = new jsPDF();
    doc.addImage(new Uint8Array(file), 'JPEG', 0, 0, 210, 297);
    const bytes = new Uint8Array(doc.output('arraybuffer'));
    const read = await readPdf(bytes);
    expect(read.ok && read.value.pages[0]!.rasterOnly).toBe(true);
    const found = await rasterPage(bytes, 1, 300);
    if (!found.ok) throw new Error(found.sentence);
    // jpeg-js, a decoder of its own.
    const other = jpeg.decode(file).data;
    const most = found.value.picture.data.reduce((worst, value, i) => Math.max(worst, Math.abs(value - other[i]!)), 0);
    expect(most).toBeLessThanOrEqual(6);
    expect(found.value.mmPerDotX).toBeCloseTo(210 / 160, 3);
  });
});

describe('a page of several strips', () => {
  it('is put together at the fineness asked for', async () => {
    // Two strips of 30 by 20 mm, one above the other; 254 dots to the inch are 10 to the mm.
    const strip = (y: number) => `q ${30 * pt} 0 0 ${20 * pt} 100 ${100 + y * pt} cm /I Do Q`;
    const { rows, mmPerDotX, mmPerDotY } = await raster(`${strip(0)} ${strip(20)}`);
    expect([rows.length, rows[0]!.length]).toEqual([400, 300]);
    expect([mmPerDotX, mmPerDotY].map((n) => Math.round(n * 1e6) / 1e6)).toEqual([0.1, 0.1]);
    // In the middle of each dot of the strips stands its grey.
    const middles = [50, 150, 250, 350].map((y) => [50, 150, 250].map((x) => rows[y]![x]!));
    const wanted = [...greys, ...greys];
    middles.flat().forEach((grey, i) => {
      expect(Math.abs(grey - wanted[i]!)).toBeLessThanOrEqual(1);
    });
  });
});

describe('what cannot be had as a picture', () => {
  it('is refused with a sentence', async () => {
    const none = await rasterPage(pdfFile([{ content: '10 10 m 90 90 l S' }]), 1, 300);
    expect(none).toMatchObject({ ok: false, code: 'page-no-picture' });
    const beyond = await rasterPage(pdfFile([{ content: '10 10 m 90 90 l S' }]), 7, 300);
    expect(beyond).toMatchObject({ ok: false, code: 'pdf-damaged' });
    const huge: TestObject = {
      number: 100,
      dictionary:
        '/Type /XObject /Subtype /Image /Width 10000 /Height 10000 /ColorSpace /DeviceGray /BitsPerComponent 8',
      stream: 'abc',
    };
    const fine = pdfFile([{ content: 'q 500 0 0 700 0 0 cm /I Do Q', resources }], [huge]);
    expect(await rasterPage(fine, 1, 300)).toMatchObject({ ok: false, code: 'page-no-picture' });
    expect(await readPdf(fine)).toMatchObject({ ok: false, code: 'pdf-no-lines' });
    const damaged: TestObject = {
      number: 100,
      dictionary:
        '/Type /XObject /Subtype /Image /Width 300 /Height 200 /ColorSpace /DeviceGray /BitsPerComponent 8 /Filter /JPXDecode',
      stream: 'no picture',
    };
    const kind = await rasterPage(pdfFile([{ content: 'q 500 0 0 700 0 0 cm /I Do Q', resources }], [damaged]), 1, 300);
    expect(kind.ok).toBe(false);
    if (!kind.ok) expect(kind.sentence).toMatch(/^[A-Z].*\.$/s);
  });
});
