import { noBounds, pathBounds, unionBounds } from '../../geometry/bounds';
import type { Point } from '../../geometry/point';
import type { BringInDraft } from '../../store/bringIn';
import type { Known } from './KnownLengthField';

export interface Ends {
  readonly from: Point;
  readonly to: Point;
}

/** The ends of the whole drawing's width or height, in units of the file. */
export function acrossAll(draft: BringInDraft, known: Exclude<Known, 'line'>): Ends {
  const { minX, minY, maxX, maxY } = draft.shapes.reduce(
    (all, shape) => unionBounds(all, pathBounds(shape.path)),
    noBounds,
  );
  const from = { x: minX, y: minY };
  return { from, to: known === 'width' ? { x: maxX, y: minY } : { x: minX, y: maxY } };
}
