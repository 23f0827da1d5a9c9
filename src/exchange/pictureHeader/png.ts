import { byteReader } from './byteReader';
import { readExif } from './exif';
import type { Density, HeaderFault, HeaderFound, Turned } from './found';

/**
 * Walks the chunks of a PNG (W3C, PNG specification, third edition: IHDR 11.2.1, pHYs 11.3.4.3, eXIf 11.3.4.5) to its
 * end mark.
 */
export function readPng(bytes: Uint8Array): HeaderFound | HeaderFault {
  const file = byteReader(bytes, false);
  if (file.length < 33) return 'cut-short';
  if (file.u32(8) !== 13 || file.text(12, 4) !== 'IHDR') return 'damaged';
  const width = file.u32(16);
  const height = file.u32(20);
  let turned: Turned = 1;
  let dots = false;
  const densities: Density[] = [];
  let at = 33;
  while (at + 12 <= file.length) {
    const length = file.u32(at);
    const name = file.text(at + 4, 4);
    const body = at + 8;
    if (name === 'IEND') return dots ? { kind: 'png', width, height, turned, densities } : 'damaged';
    if (!/^[A-Za-z]{4}$/.test(name)) return 'damaged';
    if (body + length + 4 > file.length) return 'cut-short';
    if (name === 'IDAT') dots = true;
    // Unit 1 is dots to the metre; 0 states only a shape.
    if (name === 'pHYs' && length === 9 && file.u8(body + 8) === 1) {
      densities.push({ x: file.u32(body) / 1000, y: file.u32(body + 4) / 1000 });
    }
    if (name === 'eXIf') {
      const said = readExif(bytes.subarray(body, body + length));
      turned = said.turned;
      if (said.density !== null) densities.push(said.density);
    }
    at = body + length + 4;
  }
  return 'cut-short';
}
