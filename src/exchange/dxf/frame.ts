import { type Affine, affine, identity } from '../drawing/affine';
import { type Entry, numberIn } from './pairs';

/** Ratio. A direction out of the plane may lean this much and still count as square to it; it shortens nothing by more than 5e-9. */
const squareEnough = 1e-4;

const mirrored: Affine = affine(-1, 0, 0, 1, 0, 0);

/**
 * The map from an entity's own plane to the drawing's, from the direction it was drawn towards (codes 210, 220, 230). By the
 * arbitrary axis rule of the DXF reference (status: from memory) a direction of 0,0,-1 mirrors x and keeps y. Null for a
 * plane that leans, which has no true size when seen from above.
 */
export function planeMap(entry: Entry): Affine | null {
  const x = numberIn(entry, 210, 0);
  const y = numberIn(entry, 220, 0);
  const z = numberIn(entry, 230, 1);
  const limit = squareEnough * Math.abs(z);
  if (!(z !== 0 && Math.abs(x) <= limit && Math.abs(y) <= limit)) return null;
  return z < 0 ? mirrored : identity;
}
