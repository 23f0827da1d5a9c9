import { byteReader } from './byteReader';
import type { HeaderFault, HeaderFound } from './found';

/** Size of a GIF's screen (GIF89a, from memory). */
export function readGif(bytes: Uint8Array): HeaderFound | HeaderFault {
  const file = byteReader(bytes, true);
  if (file.length < 14) return 'cut-short';
  return { kind: 'gif', width: file.u16(6), height: file.u16(8), turned: 1, densities: [] };
}

/** Size and density of a Windows bitmap: its old 12-byte header, or the 40-byte one and its longer kin (from memory). */
export function readBmp(bytes: Uint8Array): HeaderFound | HeaderFault {
  const file = byteReader(bytes, true);
  const header = file.u32(14);
  const old = header === 12;
  if (!old && !(header >= 40 && header <= 200)) return file.length < 54 ? 'cut-short' : 'damaged';
  const width = old ? file.u16(18) : file.i32(18);
  // A negative height only says that the rows run from the top.
  const height = old ? file.u16(20) : Math.abs(file.i32(22));
  const bits = old ? file.u16(24) : file.u16(28);
  const packed = !old && file.u32(30) !== 0 && file.u32(30) !== 3;
  if (Number.isNaN(width + height + bits)) return 'cut-short';
  const rows = Math.ceil((width * bits) / 32) * 4 * height;
  if (!(file.u32(10) + (packed ? 1 : rows) <= file.length)) return 'cut-short';
  const density = old ? null : { x: file.i32(38) / 1000, y: file.i32(42) / 1000 };
  return { kind: 'bmp', width, height, turned: 1, densities: density === null ? [] : [density] };
}
