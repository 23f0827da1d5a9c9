import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { OwnDecoders } from '../../../src/exchange/pdf/pictureDecoders';
import { rasterPage } from '../../../src/exchange/pdf/rasterPage';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { four, group3, group4, height, jbig2, jpeg2000, scan, width } from './codedScans';

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

it('nothing but these two decoders is handed to the library, and only where it asks for a decoder', async () => {
  const own = new OwnDecoders();
  for (const filename of ['jbig2.wasm', 'openjpeg.wasm']) {
    // Every compiled program begins so (WebAssembly core specification, 5.5.16).
    expect([...(await own.fetch({ kind: 'wasmUrl', filename })).subarray(0, 4)]).toEqual([0, 97, 115, 109]);
    await expect(own.fetch({ kind: 'cMapUrl', filename })).rejects.toThrow('Nothing outside');
  }
  for (const filename of ['quickjs-eval.wasm', 'https://example.org/jbig2.wasm'])
    await expect(own.fetch({ kind: 'wasmUrl', filename })).rejects.toThrow('Nothing outside');
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
