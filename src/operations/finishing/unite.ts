import { Clipper, EndType, FillRule, JoinType, type Path64, type Paths64 } from 'clipper2-ts';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { Point } from '../../geometry/point';
import { allowanceTipLimit, closedGapIgnored, sliverWidth, unionGrid } from '../../geometry/tolerance';

/**
 * The union of polygons given in any direction, as one polygon that runs counter-clockwise as seen on screen.
 * Corners are rounded to `unionGrid` mm. Half-planes (`keep`) cut it afterwards: only what lies on the left of the
 * ray through `from` along `along`, seen on screen, stays.
 *
 * Refused with `allowance-closes-opening` when the union has a hole: an allowance then bridges an opening of the piece.
 */
export function unite(
  polygons: readonly (readonly Point[])[],
  keep: { readonly from: Point; readonly along: Point } | null,
): Outcome<Point[]> {
  const rounded = polygons.map(toGrid).filter((p) => Math.abs(Clipper.area(p)) > 0);
  let united = withoutSlivers(Clipper.union(rounded, FillRule.NonZero));
  if (keep) united = Clipper.intersect(united, [halfPlane(keep.from, keep.along, united)], FillRule.NonZero);
  const grid2 = unionGrid * unionGrid;
  const parts = united
    .map((path) => ({ path, area: Clipper.area(path) * grid2 }))
    .filter((p) => Math.abs(p.area) > closedGapIgnored);
  const outer = parts.filter((p) => p.area > 0).sort((a, b) => b.area - a.area)[0];
  if (!outer) return fail('allowance-lost', 'The allowances leave no piece to cut. Make them narrower.');
  if (parts.some((p) => p.area < 0)) {
    return fail(
      'allowance-closes-opening',
      'The allowances close over an opening of this piece and leave a hole inside the cut line. Make the allowances there narrower.',
    );
  }
  // The library counts an area positive for the other direction of travel.
  return succeed(outer.path.map((p) => ({ x: p.x * unionGrid, y: p.y * unionGrid })).reverse());
}

/** Chords of one curve taken in two ways leave hairline gaps: widened and narrowed again they are gone. */
function withoutSlivers(paths: Paths64): Paths64 {
  const by = sliverWidth / unionGrid;
  const wider = Clipper.inflatePaths(paths, by, JoinType.Miter, EndType.Polygon, allowanceTipLimit);
  return Clipper.inflatePaths(wider, -by, JoinType.Miter, EndType.Polygon, allowanceTipLimit);
}

function toGrid(polygon: readonly Point[]): Path64 {
  const path = polygon.map((p) => ({ x: Math.round(p.x / unionGrid), y: Math.round(p.y / unionGrid) }));
  return Clipper.area(path) < 0 ? path.reverse() : path;
}

function halfPlane(from: Point, along: Point, around: Paths64): Path64 {
  const b = Clipper.getBoundsPaths(around);
  const reach = 2 * unionGrid * (Math.abs(b.right - b.left) + Math.abs(b.bottom - b.top) + 1);
  // Outward is a quarter turn from the direction of travel, so inward is the opposite.
  const inward = { x: along.y, y: -along.x };
  const a0 = { x: from.x - along.x * reach, y: from.y - along.y * reach };
  const a1 = { x: from.x + along.x * reach, y: from.y + along.y * reach };
  return toGrid([
    a0,
    a1,
    { x: a1.x + inward.x * reach, y: a1.y + inward.y * reach },
    { x: a0.x + inward.x * reach, y: a0.y + inward.y * reach },
  ]);
}
