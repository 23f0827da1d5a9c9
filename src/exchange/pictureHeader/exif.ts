import { byteReader } from './byteReader';
import type { Density, Turned } from './found';

export interface ExifSaid {
  readonly turned: Turned;
  readonly density: Density | null;
}

const orientation = 0x0112;
const xResolution = 0x011a;
const yResolution = 0x011b;
const resolutionUnit = 0x0128;

/**
 * Turn and density from a block in TIFF form (EXIF 2.3 and TIFF 6.0, tag numbers from memory). Only the first directory
 * is read and no directory is followed to another, so nothing can go in circles. What makes no sense is passed over.
 */
export function readExif(bytes: Uint8Array): ExifSaid {
  const order = byteReader(bytes, false).u16(0);
  const file = byteReader(bytes, order === 0x4949);
  const nothing: ExifSaid = { turned: 1, density: null };
  if ((order !== 0x4949 && order !== 0x4d4d) || file.u16(2) !== 42) return nothing;
  const directory = file.u32(4);
  const count = file.u16(directory);
  if (!(count > 0)) return nothing;
  let turned: Turned = 1;
  let x = Number.NaN;
  let y = Number.NaN;
  // Without the unit tag the unit is the inch (TIFF 6.0).
  let unit = 2;
  const short = (entry: number) => (file.u16(entry + 2) === 3 && file.u32(entry + 4) === 1 ? file.u16(entry + 8) : 0);
  const ratio = (entry: number) => {
    const at = file.u32(entry + 8);
    return file.u16(entry + 2) === 5 && file.u32(entry + 4) === 1 ? file.u32(at) / file.u32(at + 4) : Number.NaN;
  };
  for (let i = 0; i < count; i++) {
    const entry = directory + 2 + 12 * i;
    if (entry + 12 > file.length) break;
    const tag = file.u16(entry);
    if (tag === orientation) turned = asTurned(short(entry));
    else if (tag === xResolution) x = ratio(entry);
    else if (tag === yResolution) y = ratio(entry);
    else if (tag === resolutionUnit) unit = short(entry);
  }
  const mm = unit === 2 ? 25.4 : unit === 3 ? 10 : Number.NaN;
  return { turned, density: x > 0 && y > 0 && mm > 0 ? { x: x / mm, y: y / mm } : null };
}

function asTurned(value: number): Turned {
  return Number.isInteger(value) && value >= 1 && value <= 8 ? (value as Turned) : 1;
}
