import type { Point } from '../../geometry/point';
import { type Segment, segmentPointAt } from '../../geometry/segment';
import { swallowedDepth } from '../../geometry/tolerance';
import type { AllowanceSide } from './side';

/**
 * The first side that has no cut line of its own left: every point of its offset lies deeper than `swallowedDepth`
 * inside the united outline. Null when every side shows somewhere.
 */
export function swallowedEdge(sides: readonly AllowanceSide[], outline: readonly Point[]): AllowanceSide | null {
  return (
    sides.find((side) => !side.onFold && samples(side).every((p) => toOutline(p, outline) > swallowedDepth)) ?? null
  );
}

function samples(side: AllowanceSide): Point[] {
  return side.moved.path.flatMap((segment: Segment) =>
    Array.from({ length: 9 }, (_, i) => segmentPointAt(segment, i / 8)),
  );
}

function toOutline(p: Point, outline: readonly Point[]): number {
  let least = Number.POSITIVE_INFINITY;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const length2 = dx * dx + dy * dy;
    const t = length2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2));
    least = Math.min(least, Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy));
  });
  return least;
}
