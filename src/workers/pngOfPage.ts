import type { PageRaster } from '../exchange/pdf/rasterPage';
import { fail, type Outcome, succeed } from '../geometry/outcome';

/** A page as a picture file that says how large it is, so that it can be opened like any scan. */
export async function pngOfPage({ picture, mmPerDotX, mmPerDotY }: PageRaster): Promise<Outcome<Blob>> {
  const canvas = typeof OffscreenCanvas === 'undefined' ? null : new OffscreenCanvas(picture.width, picture.height);
  const context = canvas?.getContext('2d');
  if (canvas === null || context == null) {
    return fail(
      'no-canvas',
      'This browser cannot turn the page into a picture. Save it as PNG and open that as a scan.',
    );
  }
  const dots = new ImageData(picture.width, picture.height);
  dots.data.set(picture.data);
  context.putImageData(dots, 0, 0);
  const plain = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/png' })).arrayBuffer());
  return succeed(new Blob([withDensity(plain, 1 / mmPerDotX, 1 / mmPerDotY) as BlobPart], { type: 'image/png' }));
}

/** Signature and header chunk of a PNG together, bytes; the density may stand right behind them. */
const headLength = 33;

/** The PNG with a `pHYs` chunk (dots to the metre, PNG specification 11.3.4.3), for which dots to the mm are given. */
export function withDensity(png: Uint8Array, across: number, down: number): Uint8Array {
  const chunk = new Uint8Array(21);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, 9);
  chunk.set([0x70, 0x48, 0x59, 0x73], 4);
  view.setUint32(8, Math.round(across * 1000));
  view.setUint32(12, Math.round(down * 1000));
  chunk[16] = 1;
  view.setUint32(17, checkSum(chunk.subarray(4, 17)));
  const whole = new Uint8Array(png.length + chunk.length);
  whole.set(png.subarray(0, headLength));
  whole.set(chunk, headLength);
  whole.set(png.subarray(headLength), headLength + chunk.length);
  return whole;
}

/** CRC-32 as the PNG specification (annex D) defines it. */
function checkSum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}
