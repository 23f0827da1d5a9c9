import { byteReader } from './byteReader';
import { readExif } from './exif';
import type { Density, HeaderFault, HeaderFound, Turned } from './found';

/**
 * Walks the chunks of a WebP file (RFC 9649, from memory): the size stands in the extended header, else in the first
 * bytes of the picture itself (VP8, RFC 6386 section 9.1, or VP8L).
 */
export function readWebp(bytes: Uint8Array): HeaderFound | HeaderFault {
  const file = byteReader(bytes, true);
  const end = 8 + file.u32(4);
  if (!(end <= file.length)) return 'cut-short';
  let size: { width: number; height: number } | null = null;
  let dots = false;
  let turned: Turned = 1;
  const densities: Density[] = [];
  let at = 12;
  while (at + 8 <= end) {
    const name = file.text(at, 4);
    const length = file.u32(at + 4);
    const body = at + 8;
    if (body + length > end) return 'cut-short';
    if (name === 'VP8X' && length >= 10) {
      size ??= {
        width: 1 + u24(file.u16(body + 4), file.u8(body + 6)),
        height: 1 + u24(file.u16(body + 7), file.u8(body + 9)),
      };
    } else if (name === 'VP8 ') {
      dots = true;
      if (length < 10 || file.text(body + 3, 3) !== '\x9d\x01\x2a') return 'damaged';
      // The two bits above the fourteen of the size ask for a larger display.
      size ??= { width: file.u16(body + 6) & 0x3fff, height: file.u16(body + 8) & 0x3fff };
    } else if (name === 'VP8L') {
      dots = true;
      if (length < 5 || file.u8(body) !== 0x2f) return 'damaged';
      const bits = file.u32(body + 1);
      size ??= { width: 1 + (bits & 0x3fff), height: 1 + ((bits >>> 14) & 0x3fff) };
    } else if (name === 'ANMF') dots = true;
    else if (name === 'EXIF') {
      // Some programs keep the six letters that a JPEG puts before the block.
      const skip = file.text(body, 6) === 'Exif\0\0' ? 6 : 0;
      const said = readExif(bytes.subarray(body + skip, body + length));
      turned = said.turned;
      if (said.density !== null) densities.push(said.density);
    }
    // Chunks are padded to an even length.
    at = body + length + (length & 1);
  }
  return size !== null && dots ? { kind: 'webp', ...size, turned, densities } : 'damaged';
}

function u24(low: number, high: number): number {
  return low + 65536 * high;
}
