import { type Point, subtract, unit } from './point';
import { type Segment, segmentDerivativeAt, segmentSecondDerivativeAt } from './segment';

/**
 * Unit direction of travel at parameter t. Where handles of no length make the derivative vanish, the direction in
 * which the curve leaves the start or reaches the end; at a cusp inside, the direction in which it leaves. A segment
 * without any length has the zero vector.
 */
export function unitTangentAt(segment: Segment, t: number): Point {
  if (segment.kind === 'cubic') {
    const { start, control1, control2, end } = segment;
    if (t <= 0) return firstDirection([subtract(control1, start), subtract(control2, start), subtract(end, start)]);
    if (t >= 1) return firstDirection([subtract(end, control2), subtract(end, control1), subtract(end, start)]);
  }
  const derivative = segmentDerivativeAt(segment, t);
  if (derivative.x !== 0 || derivative.y !== 0) return unit(derivative);
  return unit(segmentSecondDerivativeAt(segment, t));
}

function firstDirection(candidates: readonly Point[]): Point {
  for (const candidate of candidates) {
    if (candidate.x !== 0 || candidate.y !== 0) return unit(candidate);
  }
  return { x: 0, y: 0 };
}
