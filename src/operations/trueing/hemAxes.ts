import { add, dot, type Point, quarterTurn, scale, subtract, unit } from '../../geometry/point';
import { type CubicSegment, cubic } from '../../geometry/segment';
import type { HemTarget } from './hemTarget';
import type { HemFrame } from './hemWorkspace';

/**
 * Axes of one hem: from its centre corner to its side corner, and outward. In them a piece that lies another way, or is
 * mirrored, is the same problem to the last few digits, so that the search takes the same path to the same answer.
 */
export interface HemAxes {
  readonly origin: Point;
  readonly along: Point;
  readonly out: Point;
}

export function hemAxes(frame: HemFrame, outward: 1 | -1): HemAxes {
  const along = unit(subtract(frame.end, frame.start));
  return { origin: frame.start, along, out: scale(quarterTurn(along), outward) };
}

export function frameInAxes(frame: HemFrame, axes: HemAxes): HemFrame {
  const direction = (v: Point): Point => ({ x: dot(v, axes.along), y: dot(v, axes.out) });
  return {
    ...frame,
    start: { x: 0, y: 0 },
    end: direction(subtract(frame.end, frame.start)),
    startTangent: direction(frame.startTangent),
    endTangent: direction(frame.endTangent),
  };
}

export function targetInAxes(target: HemTarget, { origin, along, out }: HemAxes): HemTarget {
  const x = new Float64Array(target.count);
  const y = new Float64Array(target.count);
  for (let i = 0; i < target.count; i++) {
    const dx = target.x[i]! - origin.x;
    const dy = target.y[i]! - origin.y;
    x[i] = dx * along.x + dy * along.y;
    y[i] = dx * out.x + dy * out.y;
  }
  return { ...target, x, y };
}

/**
 * The curve brought back to the piece. Its ends and the handles there are laid on the corners and directions of the frame
 * exactly, so that no rounding opens a joint or leans a square corner.
 */
export function curveFromAxes(
  segments: readonly CubicSegment[],
  { origin, along, out }: HemAxes,
  frame: HemFrame,
  handles: { readonly start: number; readonly end: number },
): CubicSegment[] {
  const back = (p: Point): Point => add(origin, add(scale(along, p.x), scale(out, p.y)));
  let start = frame.start;
  return segments.map((segment, index) => {
    const isLast = index === segments.length - 1;
    const end = isLast ? frame.end : back(segment.end);
    const control1 = index === 0 ? add(frame.start, scale(frame.startTangent, handles.start)) : back(segment.control1);
    const control2 = isLast ? add(frame.end, scale(frame.endTangent, -handles.end)) : back(segment.control2);
    const brought = cubic(start, control1, control2, end);
    start = end;
    return brought;
  });
}
