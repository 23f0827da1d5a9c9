import { expectedError, expectedShapeErrors } from '../../../exchange/photo/straighten';
import { toTable } from '../../../exchange/photo/viewPoint';
import type { Point } from '../../../geometry/point';
import { invert, movePoint } from '../../../geometry/rigidMove';
import type { Path } from '../../../geometry/segment';
import { flatBounds, type PictureDraft, type StraightPart } from '../../../store/pictureDraft';

/** Steps along each side of the picture at which it is asked how well the table is known. */
const steps = 8;

/**
 * The largest error to be expected (95 %) on the part of the table that is shown, mm, once it is laid on as well as it can
 * be by shifting and turning; null for a scan, which has none of its own.
 */
export function farError({ straightened, flat, reference }: StraightPart): number | null {
  if (reference.kind === 'scan') return null;
  const { view } = straightened;
  const { minX, minY, maxX, maxY } = flatBounds(flat);
  const places: Point[] = [];
  for (let row = 0; row <= steps; row++) {
    for (let column = 0; column <= steps; column++) {
      const at = toTable(view, { x: (view.width * column) / steps, y: (view.height * row) / steps });
      if (at.x >= minX && at.x <= maxX && at.y >= minY && at.y <= maxY) places.push(at);
    }
  }
  return Math.max(0, ...expectedShapeErrors(straightened, places));
}

/** Of the outline's steps of about 1 mm every so many are asked about. */
const everyStep = 20;

/**
 * The largest error (95 %) to be expected on an outline, mm, that no shift or turn of the piece takes away; of several
 * pictures each place is seen by the one that knows it best, from its own sheet. Null where a scan is among the pictures.
 */
export function outlineError({ parts }: PictureDraft, outline: Path): number | null {
  const known = parts.flatMap(({ straight }) =>
    straight === null ? [] : [{ ...straight, back: invert(straight.move) }],
  );
  if (known.length === 0 || known.some(({ reference }) => reference.kind === 'scan')) return null;
  const places = outline.filter((_, i) => i % everyStep === 0).map(({ start }) => start);
  const [only] = known;
  if (known.length === 1 && only !== undefined) {
    const own = places.map((place) => movePoint(only.back, place));
    const most = Math.max(...expectedShapeErrors(only.straightened, own));
    return Number.isFinite(most) ? most : null;
  }
  let most = 0;
  for (const start of places) {
    const errors = known.map(({ straightened, back }) => expectedError(straightened, movePoint(back, start)));
    most = Math.max(most, Math.min(...errors));
  }
  return Number.isFinite(most) ? most : null;
}
