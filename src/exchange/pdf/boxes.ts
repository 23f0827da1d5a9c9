import type { Bounds } from '../../geometry/bounds';
import { sameShape } from '../../geometry/tolerance';

/** Whether a rectangle lies inside another, but for a hair. */
export function contains(outer: Bounds, inner: Bounds): boolean {
  return (
    inner.minX >= outer.minX - sameShape &&
    inner.maxX <= outer.maxX + sameShape &&
    inner.minY >= outer.minY - sameShape &&
    inner.maxY <= outer.maxY + sameShape
  );
}
