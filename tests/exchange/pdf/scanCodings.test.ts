import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { rasterPage } from '../../../src/exchange/pdf/rasterPage';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { pdfFile, pt, type TestObject } from './pdfText';

// One picture of 40 by 24 dots in the codings that scanners write, each made by a program of its own: libtiff 4.5
// (tiffcp -c g4, -c g3) and OpenJPEG 2.5 (opj_compress). What must come back is computed here dot by dot.
const [width, height] = [40, 24];
const isInk = (x: number, y: number) =>
  x === 0 ||
  x === width - 1 ||
  y === 0 ||
  y === height - 1 ||
  (x - 28) ** 2 + (y - 12) ** 2 <= 36 ||
  [0, 1, 2].includes(2 * x - 3 * y);
const drawn = (value: (x: number, y: number) => number) =>
  Array.from({ length: height }, (_, y) => Array.from({ length: width }, (_, x) => value(x, y)));
const black = drawn((x, y) => (isInk(x, y) ? 0 : 255));
const white = drawn((x, y) => (isInk(x, y) ? 255 : 0));
const grey = drawn((x, y) => (5 * x + 3 * y) % 256);

// libtiff wrote the ink as white runs.
const group4 = atob('kdEcNTZcNLDI4Ney4NOGRwaNlwYI4TDI4ID7LhHwyOK+y5eGRz9l98Mj678P2u1wwXDI4my48Mjlsu4jABAB');
const group3 = atob(
  'ABKQAR0OGoOACPuGkOACOxwaxwARzcGkcAEcY4NA4AI4rgwOEHABHCDgnjHABHCuEoQ4AI4IOKgxwARwdyQY4AI4LjmgxwARwYfDY4AI4Zx9BjgAjhoDMcAEcG6DHABHBRQhwARwL+McAEcMpwg4AI4Zg4g4AI4ZrjHABHBpHIcAEcGp2OACUg==',
);
const jpeg2000 = atob(
  'AAAADGpQICANCocKAAAAFGZ0eXBqcDIgAAAAAGpwMiAAAAAtanAyaAAAABZpaGRyAAAAGAAAACgAAQcHAAAAAAAPY29scgEAAAAAABEAAAEAanAyY/9P/1EAKQAAAAAAKAAAABgAAAAAAAAAAAAAACgAAAAYAAAAAAAAAAAAAQcBAf9SAAwAAAABAAIEBAAB/1wACkBASEhQSEhQ/2QAJQABQ3JlYXRlZCBieSBPcGVuSlBFRyB2ZXJzaW9uIDIuNS4w/5AACgAAAAAAiAAB/5PfgZgSK2ZzwespdRLzLNvPVjiHZtAqZn4FGBnHYucOu5JlI0y8z9IB7LjgndNTfKzgtWAOsZ/D6giD5w0/MFCJqngixgXq74mgaizFz4msK3K3x9odD6gyfmCgqFTz7hVZ5bXq0MoBAsWpkoOHlDbCjZkPWD+phPHRXf/Z',
);

const four = (n: number) => String.fromCharCode(n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255);

/** A part of a JBIG2 stream (ITU-T T.88, 7.2): number, kind, no part referred to, page 1, length, data. */
const part = (number: number, kind: number, data: string) =>
  `${four(number)}${String.fromCharCode(kind, 0, 1)}${four(data.length)}${data}`;

/** The page (7.4.8) and one generic region (7.4.6) coded as group 4 codes it (MMR). */
const jbig2 =
  part(0, 48, `${four(width)}${four(height)}${four(0)}${four(0)}\0\0\0`) +
  part(1, 38, `${four(width)}${four(height)}${four(0)}${four(0)}\0\u0001${group4}`);

function scan(filter: string, stream: string, more = '/ColorSpace /DeviceGray /BitsPerComponent 1'): Uint8Array {
  const image: TestObject = {
    number: 100,
    dictionary: `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} ${more} ${filter}`,
    stream,
  };
  const content = `q ${80 * pt} 0 0 ${48 * pt} 0 0 cm /I Do Q`;
  const mediaBox = [0, 0, 80 * pt, 48 * pt] as const;
  return pdfFile([{ content, mediaBox, resources: '/XObject << /I 100 0 R >>' }], [image]);
}

async function dots(bytes: Uint8Array): Promise<number[][]> {
  const found = await rasterPage(bytes, 1, 300);
  if (!found.ok) throw new Error(found.sentence);
  const { picture, mmPerDotX, mmPerDotY } = found.value;
  expect([mmPerDotX, mmPerDotY].map((n) => Math.round(n * 1e4) / 1e4)).toEqual([2, 2]);
  return Array.from({ length: picture.height }, (_, y) =>
    Array.from({ length: picture.width }, (_, x) => picture.data[4 * (y * picture.width + x)]!),
  );
}

/** The decoders come with the program: no network is asked. */
const fetched = vi.fn(() => Promise.reject(new Error('no network')));
beforeAll(() => {
  vi.stubGlobal('fetch', fetched);
});
afterAll(() => {
  vi.unstubAllGlobals();
  expect(fetched).not.toHaveBeenCalled();
});

const fax = (k: number, isBlack1: boolean) =>
  `/Filter /CCITTFaxDecode /DecodeParms << /K ${k} /Columns ${width} /Rows ${height} /BlackIs1 ${isBlack1} >>`;

describe('R37 scans as scanners code them', () => {
  it.each([
    ['fax, group 4', () => scan(fax(-1, true), group4), black],
    ['fax, group 4, the other way round', () => scan(fax(-1, false), group4), white],
    ['fax, group 3', () => scan(fax(0, true), group3), black],
    ['a mask in fax coding', () => scan(fax(-1, true), group4, '/ImageMask true /BitsPerComponent 1'), black],
    ['JBIG2', () => scan('/Filter /JBIG2Decode', jbig2), white],
    ['JPEG 2000', () => scan('/Filter /JPXDecode', jpeg2000, ''), grey],
    ['JPEG 2000 as letters', () => scan('/Filter [/ASCIIHexDecode /JPXDecode]', hex(jpeg2000), ''), grey],
  ])('%s: dot by dot what was scanned', async (_, make, wanted) => {
    const bytes = make();
    // Looked at for its lines first, as the app does.
    const read = await readPdf(bytes);
    expect(read.ok && read.value.pages[0]!.rasterOnly).toBe(true);
    expect(await dots(bytes)).toEqual(wanted);
  });

  it.each([
    ['JPEG 2000', () => scan('/Filter /JPXDecode', jpeg2000.slice(0, 150), '')],
    ['JPEG 2000 of 100,000 by 100,000 dots', () => scan('/Filter /JPXDecode', grown(jpeg2000), '')],
  ])('damaged, %s: refused with a sentence, and the next one is read', async (_, make) => {
    const answer = await rasterPage(make(), 1, 300);
    expect(answer.ok ? 'was read' : answer.sentence).toMatch(/^The picture on (this )?page.*\.$/);
    expect(await dots(scan('/Filter /JPXDecode', jpeg2000, ''))).toEqual(grey);
  });
});

it('damaged JBIG2 comes as far as it goes, at its true size', async () => {
  const found = await dots(scan('/Filter /JBIG2Decode', jbig2.slice(0, jbig2.length - 20)));
  expect(found.map((row) => row.length)).toEqual(white.map((row) => row.length));
});

function hex(text: string): string {
  return `${Array.from(text, (letter) => letter.charCodeAt(0).toString(16).padStart(2, '0')).join('')}>`;
}

/** The same picture with another size in its own head (ISO 15444-1, A.5.1: width and height follow two bytes behind SIZ's length). */
function grown(picture: string): string {
  const at = picture.indexOf('\u00ff\u0051') + 6;
  return picture.slice(0, at) + four(100_000) + four(100_000) + picture.slice(at + 8);
}
