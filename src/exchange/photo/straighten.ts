import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { cross, subtract, unit } from '../../geometry/point';
import {
  cameraLens,
  clickedDot,
  outwardShift,
  paperBulge,
  scanScaleError,
  sheetNotFlat,
  strongestLens,
} from '../../geometry/tolerance';
import type { QuadFit } from './fitQuad';
import { quadToRectangle } from './homography';
import type { Picture } from './picture';
import type { Quad } from './pictureView';
import type { Reference, Straightened } from './reference';
import { doubtOfShape, wrongReference } from './referenceChecks';
import { readSheetEdges } from './sheetEdges';
import { applyLens } from './viewPoint';

export { expectedError, expectedShapeErrors } from './expectedError';
export type { Reference, Straightened } from './reference';

/** Dots: corners set by hand, or found on a reduced picture, lie this near to the sheet's. */
const reach = 10;

/** The lens term counts as read off the picture when it is known this much better than lenses differ. */
const lensRead = 1 / 4;

/**
 * From a picture and what is known to be flat on it, to where every dot lies on the table and how well, or why not
 * (docs/maths/photo.md).
 */
export function straighten(picture: Picture, reference: Reference): Outcome<Straightened> {
  if (reference.kind === 'scan') return fromScan(picture, reference);
  const wrong = wrongReference(picture, reference);
  if (wrong !== null) return wrong;
  return reference.kind === 'sheet' ? fromSheet(picture, reference) : fromPoints(picture, reference);
}

type Sized = Extract<Reference, { readonly corners: Quad }>;
type Scan = Extract<Reference, { readonly kind: 'scan' }>;

function fromSheet(picture: Picture, { corners, width, height }: Sized): Outcome<Straightened> {
  const dotsPerMm = corners.map((corner, i) => {
    const next = corners[(i + 1) % 4]!;
    return Math.hypot(next.x - corner.x, next.y - corner.y) / (i % 2 === 0 ? width : height);
  });
  const bulgeSpread = dotsPerMm.map((dots) => paperBulge * dots);
  const edges = readSheetEdges(picture, corners, reach, { lensSpread: cameraLens, bulgeSpread });
  if ('missing' in edges) {
    return fail(
      'photo-edge-not-found',
      `The ${sideOf(corners, edges.missing)} edge of the sheet cannot be read. Set the corners on the sheet's own corners, lay a darker cloth under a white sheet, and keep its edges free.`,
    );
  }
  const { fit, look } = edges;
  const bent = worstBend(fit, dotsPerMm);
  if (bent.mm > sheetNotFlat || Math.abs(fit.lens) > strongestLens) {
    return fail(
      'photo-sheet-not-flat',
      `The ${sideOf(corners, bent.side)} edge of the sheet bows more than any lens explains. Press the sheet flat on the table and take the photograph again; a picture that was cropped can look the same.`,
    );
  }
  const covariance = withOutwardShift(fit.covariance, fit.corners, outwardShift * look.blur);
  const doubt = doubtOfShape(picture, fit.corners, { width, height }, cornerSpread(covariance));
  if (doubt !== null && typeof doubt !== 'string') return doubt;
  const frame = { width: picture.width, height: picture.height, lens: fit.lens };
  const lensKnown = Math.sqrt(covariance[80]!) < lensRead * cameraLens;
  return succeed({
    view: { ...frame, homography: quadToRectangle(fit.corners, width, height) },
    size: { width, height },
    corners: fit.corners.map((corner) => applyLens(frame, corner)) as unknown as Quad,
    undone: fit.corners,
    covariance,
    lensKnown,
    notes: [...(doubt === null ? [] : [doubt]), ...(lensKnown ? [] : [lensNote])],
  });
}

const lensNote =
  'The sheet is too small on the picture, or too near its middle, to show how the lens bends lines: places far from it are less certain.';

function fromPoints(picture: Picture, { corners, width, height }: Sized): Outcome<Straightened> {
  const doubt = doubtOfShape(picture, corners, { width, height }, clickedDot);
  if (doubt !== null && typeof doubt !== 'string') return doubt;
  const frame = { width: picture.width, height: picture.height, lens: 0 };
  return succeed({
    view: { ...frame, homography: quadToRectangle(corners, width, height) },
    size: { width, height },
    corners,
    undone: corners,
    covariance: diagonal([...new Array<number>(8).fill(clickedDot ** 2), cameraLens ** 2]),
    lensKnown: false,
    notes: [
      ...(doubt === null ? [] : [doubt]),
      'Four points cannot show how the lens bends lines: take the photograph from well above, with the piece in its middle.',
    ],
  });
}

/** mm: dots of a scan between 5,000 and 25 to the inch. */
const finestScan = 0.005;
const coarsestScan = 1;

/** Ratio: scanners' two directions differ by whole multiples at most this large. */
const mostUneven = 4.2;

function fromScan({ width, height }: Picture, { mmPerDotX, mmPerDotY }: Scan): Outcome<Straightened> {
  const steps = [mmPerDotX, mmPerDotY];
  const uneven = Math.max(...steps) / Math.min(...steps);
  if (!steps.every((step) => step >= finestScan && step <= coarsestScan) || !(uneven <= mostUneven)) {
    return fail(
      'photo-scan-scale',
      'The scale given for the scan is not that of a scanner (25 to 5,000 dots to the inch, much the same both ways). Check the dots to the inch.',
    );
  }
  const corners: Quad = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  const across = (scanScaleError * width) ** 2;
  const down = (scanScaleError * height) ** 2;
  return succeed({
    view: { width, height, lens: 0, homography: [mmPerDotX, 0, 0, 0, mmPerDotY, 0, 0, 0, 1] },
    size: { width: width * mmPerDotX, height: height * mmPerDotY },
    corners,
    undone: corners,
    covariance: diagonal([across, down, across, down, across, down, across, down, 0]),
    lensKnown: true,
    notes: [],
  });
}

function diagonal(values: readonly number[]): number[] {
  return values.flatMap((value, i) => values.map((_, j) => (i === j ? value : 0)));
}

/** Root mean square of the corner coordinates' standard deviations, dots. */
function cornerSpread(covariance: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < 8; i++) sum += covariance[10 * i]! / 8;
  return Math.sqrt(sum);
}

function worstBend({ bulge }: QuadFit, dotsPerMm: readonly number[]): { readonly side: number; readonly mm: number } {
  const mm = bulge.map((dots, i) => Math.abs(dots) / dotsPerMm[i]!);
  const worst = Math.max(...mm);
  return { side: mm.indexOf(worst), mm: worst };
}

/** Where a side lies as the picture shows the sheet. */
function sideOf(corners: Quad, side: number): string {
  const [a, b] = [corners[side]!, corners[(side + 1) % 4]!];
  const x = (a.x + b.x) / 2 - corners.reduce((sum, p) => sum + p.x / 4, 0);
  const y = (a.y + b.y) / 2 - corners.reduce((sum, p) => sum + p.y / 4, 0);
  return Math.abs(x) > Math.abs(y) ? (x < 0 ? 'left' : 'right') : y < 0 ? 'upper' : 'lower';
}

/** The covariance with all four edges lying outward, or inward, by one and the same distance of this spread (dots). */
function withOutwardShift(covariance: readonly number[], corners: Quad, spread: number): number[] {
  const moves = corners.flatMap((corner, i) => {
    const p = unit(subtract(corner, corners[(i + 3) % 4]!));
    const q = unit(subtract(corners[(i + 1) % 4]!, corner));
    // Square to a side, outward: (y, -x) of its direction. The move has the product 1 with both.
    const across = cross(p, q);
    return [(p.x - q.x) / across, (p.y - q.y) / across];
  });
  return covariance.map((value, at) => {
    const [i, j] = [Math.floor(at / 9), at % 9];
    return i < 8 && j < 8 ? value + moves[i]! * moves[j]! * spread ** 2 : value;
  });
}
