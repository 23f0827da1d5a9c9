import { dxfLimits } from '../../exchange/dxf/limits';
import { pdfLimits } from '../../exchange/pdf/limits';
import { svgLimits } from '../../exchange/svg/limits';
import { type Failure, fail } from '../../geometry/outcome';
import type { FileKind } from './fileKind';

/** Bytes. Larger files are turned away before they are read into memory; what a reader will not take whole is not loaded at all. */
const mostBytes: Partial<Readonly<Record<FileKind, { readonly bytes: number; readonly what: string }>>> = {
  garment: { bytes: 20_000_000, what: 'saved garment' },
  svg: { bytes: svgLimits.characters, what: 'SVG drawing' },
  dxf: { bytes: dxfLimits.bytes, what: 'DXF drawing' },
  pdf: { bytes: pdfLimits.bytes, what: 'PDF' },
};

/** Why a file is too large to be opened; null when it is not. */
export function tooLarge(kind: FileKind, size: number): Failure | null {
  const limit = mostBytes[kind];
  if (limit === undefined || size <= limit.bytes) return null;
  return fail(
    'file-too-large',
    `This ${limit.what} is larger than ${limit.bytes / 1_000_000} MB, far more than a pattern needs, so it was not opened. Save only the pieces or pages you need and open that.`,
  );
}
