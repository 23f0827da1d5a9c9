import type { SheetFound } from '../../../exchange/photo/findSheets';
import type { Reference } from '../../../exchange/photo/reference';
import { fail, type Outcome, succeed } from '../../../geometry/outcome';
import { distance, type Point } from '../../../geometry/point';
import { type Beside, type PicturePart, quadOf } from '../../../store/pictureDraft';

export type BesideKind = Beside['kind'];

/** Long and short side, mm. A4 by ISO 216, Letter 11 by 8 1/2 in by ANSI/ASME Y14.1. */
export const sheetSizes: Readonly<Record<'a4' | 'letter', { readonly long: number; readonly short: number }>> = {
  a4: { long: 297, short: 210 },
  letter: { long: 279.4, short: 215.9 },
};

/** Ratio. A found shape whose sides agree with a known sheet to this is taken for it until the maker says otherwise. */
const ratioSlack = 0.04;

/** What probably lies beside the piece, from the shape that was found or from what the file says of itself. */
export function guessBeside(
  sheets: readonly SheetFound[],
  stated: PicturePart['stated'],
): { readonly beside: Beside; readonly corners: readonly Point[] } | null {
  const [best] = sheets;
  if (best === undefined) {
    return stated === null ? null : { beside: { kind: 'scan', across: stated.x, down: stated.y }, corners: [] };
  }
  const off = (kind: 'a4' | 'letter') =>
    Math.abs(best.longOverShort / (sheetSizes[kind].long / sheetSizes[kind].short) - 1);
  const kind = off('a4') <= off('letter') ? 'a4' : 'letter';
  if (off(kind) > ratioSlack) return { beside: { kind: 'other', width: 0, height: 0 }, corners: best.corners };
  return { beside: sheetLying(kind, best.corners), corners: best.corners };
}

/** A sheet of known size, its long side along the longer of the two directions it is seen in. */
export function sheetLying(kind: 'a4' | 'letter', corners: readonly Point[]): Beside {
  const { long, short } = sheetSizes[kind];
  const [a, b, c, d] = corners;
  const across = a === undefined || b === undefined || c === undefined || d === undefined;
  const wide = !across && distance(a, b) + distance(c, d) >= distance(b, c) + distance(d, a);
  return wide ? { kind, width: long, height: short } : { kind, width: short, height: long };
}

/** The part with its sheet lying the way its corners look; the same part where it does already. */
export function lyingAsSeen(part: PicturePart): PicturePart {
  const { beside, corners } = part;
  if (beside.kind !== 'a4' && beside.kind !== 'letter') return part;
  const seen = sheetLying(beside.kind, corners);
  return 'width' in seen && seen.width !== beside.width ? { ...part, beside: seen } : part;
}

/** The part with another thing beside it; corners already set are kept where they still mean something. */
export function withBeside(part: PicturePart, kind: BesideKind): PicturePart {
  const corners = part.corners.length === 4 ? part.corners : (part.sheets[0]?.corners ?? middleOf(part));
  switch (kind) {
    case 'a4':
    case 'letter':
      return { ...part, corners, beside: sheetLying(kind, corners) };
    case 'other':
      return { ...part, corners, beside: { kind, width: 0, height: 0 } };
    case 'mat':
      return { ...part, corners: [], beside: { kind, width: 0, height: 0 } };
    case 'scan':
      return { ...part, corners: [], beside: { kind, across: part.stated?.x ?? 0, down: part.stated?.y ?? 0 } };
  }
}

/** Four corners to start from where nothing was found, dots. */
export function middleOf({ width, height }: Pick<PicturePart, 'width' | 'height'>): readonly Point[] {
  const [left, right, top, bottom] = [width * 0.3, width * 0.7, height * 0.3, height * 0.7];
  return [
    { x: left, y: top },
    { x: right, y: top },
    { x: right, y: bottom },
    { x: left, y: bottom },
  ];
}

/** What the picture is straightened by, or what is still missing. */
export function referenceOf(part: PicturePart): Outcome<Reference> {
  const { beside } = part;
  if (beside.kind === 'scan') {
    if (!(beside.across > 0 && beside.down > 0)) {
      return fail('scan-unsized', 'Say how many dots to the inch it was scanned at.');
    }
    return succeed({ kind: 'scan', mmPerDotX: 1 / beside.across, mmPerDotY: 1 / beside.down });
  }
  const corners = quadOf(part);
  if (corners === null) {
    return fail('corners-missing', `Click the four crossings on the picture: ${4 - part.corners.length} to go.`);
  }
  const { width, height } = beside;
  if (!(width > 0 && height > 0)) {
    return fail('sheet-unsized', 'Type both lengths: from 1 to 2, and from 2 to 3.');
  }
  return succeed({ kind: beside.kind === 'mat' ? 'points' : 'sheet', width, height, corners });
}

/** How the picture came to its size, for the maker. */
export function besideSentence({ beside }: PicturePart): string {
  switch (beside.kind) {
    case 'a4':
      return 'Straightened by the A4 sheet lying beside it.';
    case 'letter':
      return 'Straightened by the Letter sheet lying beside it.';
    case 'other':
      return `Straightened by a sheet of ${round(beside.width)} by ${round(beside.height)} mm lying beside it.`;
    case 'mat':
      return `Straightened by a ruled mat: four crossings, ${round(beside.width)} by ${round(beside.height)} mm.`;
    case 'scan':
      return `A scan at ${round(beside.across * 25.4)} by ${round(beside.down * 25.4)} dots to the inch.`;
  }
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
