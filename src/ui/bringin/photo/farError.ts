import { expectedError } from '../../../exchange/photo/straighten';
import { toTable } from '../../../exchange/photo/viewPoint';
import { flatBounds, type StraightPart } from '../../../store/pictureDraft';

/** Steps along each side of the picture at which it is asked how well the table is known. */
const steps = 8;

/** The largest error to be expected (95 %) on the part of the table that is shown, mm; null for a scan, which has none of its own. */
export function farError({ straightened, flat, reference }: StraightPart): number | null {
  if (reference.kind === 'scan') return null;
  const { view } = straightened;
  const { minX, minY, maxX, maxY } = flatBounds(flat);
  let most = 0;
  for (let row = 0; row <= steps; row++) {
    for (let column = 0; column <= steps; column++) {
      const at = toTable(view, { x: (view.width * column) / steps, y: (view.height * row) / steps });
      if (!(at.x >= minX && at.x <= maxX && at.y >= minY && at.y <= maxY)) continue;
      most = Math.max(most, expectedError(straightened, at));
    }
  }
  return most;
}
