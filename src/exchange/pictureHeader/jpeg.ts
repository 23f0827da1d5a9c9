import { byteReader } from './byteReader';
import { readExif } from './exif';
import type { Density, HeaderFault, HeaderFound, Turned } from './found';

/** Baseline, extended and progressive with Huffman codes: the frames browsers decode. */
const usualFrames = [0xc0, 0xc1, 0xc2];

/**
 * Walks the marker segments up to the picture data (ITU-T T.81 annex B; JFIF 1.02 for the density; both from memory) and
 * looks for the end mark, because a JPEG cut in two would open with its lower part missing.
 */
export function readJpeg(bytes: Uint8Array): HeaderFound | HeaderFault {
  const file = byteReader(bytes, false);
  let size: { width: number; height: number } | null = null;
  let turned: Turned = 1;
  const densities: Density[] = [];
  let at = 2;
  for (;;) {
    if (at + 2 > file.length) return 'cut-short';
    if (file.u8(at) !== 0xff) return 'damaged';
    const marker = file.u8(at + 1);
    if (marker === 0xff) {
      // A fill byte before the marker.
      at += 1;
      continue;
    }
    if (marker === 0xd9) return 'damaged';
    if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7)) {
      at += 2;
      continue;
    }
    const length = file.u16(at + 2);
    if (length < 2) return 'damaged';
    if (!(at + 2 + length <= file.length)) return 'cut-short';
    const body = at + 4;
    if (marker === 0xda) break;
    if (isFrame(marker)) {
      if (size !== null) return 'damaged';
      if (!usualFrames.includes(marker) || file.u8(body) !== 8) return 'unusual-jpeg';
      if (length < 8) return 'damaged';
      size = { height: file.u16(body + 1), width: file.u16(body + 3) };
    } else if (marker === 0xe0 && length >= 16 && file.text(body, 5) === 'JFIF\0') {
      const mm = [0, 25.4, 10][file.u8(body + 7)] ?? 0;
      if (mm > 0) densities.push({ x: file.u16(body + 8) / mm, y: file.u16(body + 10) / mm });
    } else if (marker === 0xe1 && file.text(body, 6) === 'Exif\0\0') {
      const said = readExif(bytes.subarray(body + 6, at + 2 + length));
      turned = said.turned;
      if (said.density !== null) densities.push(said.density);
    }
    at += 2 + length;
  }
  if (size === null) return 'damaged';
  return hasEnd(bytes, at) ? { kind: 'jpeg', ...size, turned, densities } : 'cut-short';
}

/** C0 to CF start a frame, but for the tables of Huffman codes (C4), a reserved one (C8) and arithmetic codes (CC). */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
}

/** Looked for from the end: some cameras put more behind the picture. */
function hasEnd(bytes: Uint8Array, from: number): boolean {
  let at = bytes.length - 1;
  while (at > from) {
    at = bytes.lastIndexOf(0xd9, at);
    if (at <= from) return false;
    if (bytes[at - 1] === 0xff) return true;
    at -= 1;
  }
  return false;
}
