import { endTangent, pathEnd, pathLength, startTangent, subPath } from '../geometry/path';
import { add, cross, dot, quarterTurn, scale } from '../geometry/point';
import { line, type Path, reversePath } from '../geometry/segment';
import { arcCubics } from './drawing/arc';

/** An edge made longer at both ends. */
export interface CarriedOn {
  readonly path: Path;
  /** Segments put before the edge; then come those of the edge, then those put after it. */
  readonly before: number;
  readonly edge: number;
}

/** radians. A curve is carried on no farther round than this; beyond, nothing of how it bent is left. */
const mostTurn = Math.PI / 2;

/** mm. An arc that leaves its tangent by less over the whole reach is drawn straight. */
const straight = 1e-4;

/**
 * An edge carried on at both ends for `reach` mm: straight where it ends straight, and on the arc of its own bend where it
 * ends curved, because what was cut off there bent on like the rest. `bendOver`: mm from the end over which the bend is
 * taken, so that a last short stretch alone does not decide it.
 */
export function carriedOn(edge: Path, reach: number, bendOver: number): CarriedOn {
  const after = carriedOnAfter(edge, reach, bendOver);
  const before = reversePath(carriedOnAfter(reversePath(edge), reach, bendOver));
  return { path: [...before, ...edge, ...after], before: before.length, edge: edge.length };
}

function carriedOnAfter(edge: Path, reach: number, bendOver: number): Path {
  const end = pathEnd(edge);
  const direction = endTangent(edge);
  const bend = bendAtEnd(edge, bendOver);
  if ((Math.abs(bend) * reach * reach) / 2 <= straight) return [line(end, add(end, scale(direction, reach)))];
  const radius = 1 / Math.abs(bend);
  const sweep = Math.sign(bend) * Math.min(mostTurn, reach * Math.abs(bend));
  const centre = add(end, scale(quarterTurn(direction), Math.sign(bend) * radius));
  const from = Math.atan2(end.y - centre.y, end.x - centre.x);
  const last = { x: centre.x + radius * Math.cos(from + sweep), y: centre.y + radius * Math.sin(from + sweep) };
  const arc = { centre, axisX: { x: radius, y: 0 }, axisY: { x: 0, y: radius }, from, sweep };
  return arcCubics(arc, end, last);
}

/** Mean curvature (1/mm, positive from x towards y) of the last stretch of an edge. */
function bendAtEnd(edge: Path, bendOver: number): number {
  const length = pathLength(edge);
  const stretch = Math.min(bendOver, length / 2);
  if (edge.at(-1)!.kind === 'line' || !(stretch > 0)) return 0;
  const from = startTangent(subPath(edge, length - stretch, length));
  const to = endTangent(edge);
  return Math.atan2(cross(from, to), dot(from, to)) / stretch;
}
