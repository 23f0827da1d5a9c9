import { enclosedArea } from '../../geometry/area';
import { flattenPath } from '../../geometry/flatten';
import type { Point } from '../../geometry/point';
import type { Path } from '../../geometry/segment';

export interface AreaMoments {
  /** mm2 */
  readonly area: number;
  readonly centre: Point;
  /** Direction of the longer principal axis, radians, one of the two opposite ones. */
  readonly angle: number;
}

/**
 * Centre of area and principal axes of a closed outline, from the second moments of its chords (closed form for a
 * polygon: Green's theorem). A mirror axis of any shape runs through the centre of its area, along one of its principal
 * axes unless all are alike, as in a square.
 */
export function areaMoments(outline: Path): AreaMoments {
  const points = flattenPath(outline, 0.05).slice(0, -1);
  const origin = points[0]!;
  let twice = 0;
  let sx = 0;
  let sy = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  points.forEach((point, i) => {
    const next = points[(i + 1) % points.length]!;
    const [ax, ay] = [point.x - origin.x, point.y - origin.y];
    const [bx, by] = [next.x - origin.x, next.y - origin.y];
    const turn = ax * by - bx * ay;
    twice += turn;
    sx += turn * (ax + bx);
    sy += turn * (ay + by);
    xx += turn * (ax * ax + ax * bx + bx * bx);
    yy += turn * (ay * ay + ay * by + by * by);
    xy += turn * (2 * ax * ay + ax * by + bx * ay + 2 * bx * by);
  });
  const [cx, cy] = [sx / (3 * twice), sy / (3 * twice)];
  const [mxx, myy, mxy] = [xx / 6 / twice - cx * cx, yy / 6 / twice - cy * cy, xy / 12 / twice - cx * cy];
  return {
    area: Math.abs(enclosedArea(outline)),
    centre: { x: origin.x + cx, y: origin.y + cy },
    angle: Math.atan2(2 * mxy, mxx - myy) / 2,
  };
}
