import { mix, type Point } from '../../geometry/point';
import { type CubicSegment, cubic } from '../../geometry/segment';

/**
 * The clamped uniform cubic B-spline of a trued hem, 1 to 3 spans, with controls Q0 .. Q(spans + 2).
 *
 * `bezierRows` gives, span after span, the four Bezier control points of the span as combinations of the controls:
 * row-major, 4 rows of (spans + 3) numbers per span. Found by knot insertion (blossoming); see docs/maths/trueing.md.
 */
const bezierRows: Readonly<Record<1 | 2 | 3, readonly (readonly number[])[]>> = {
  1: [
    [1, 0, 0, 0],
    [0, 1, 0, 0],
    [0, 0, 1, 0],
    [0, 0, 0, 1],
  ],
  2: [
    [1, 0, 0, 0, 0],
    [0, 1, 0, 0, 0],
    [0, 1 / 2, 1 / 2, 0, 0],
    [0, 1 / 4, 1 / 2, 1 / 4, 0],
    [0, 1 / 4, 1 / 2, 1 / 4, 0],
    [0, 0, 1 / 2, 1 / 2, 0],
    [0, 0, 0, 1, 0],
    [0, 0, 0, 0, 1],
  ],
  3: [
    [1, 0, 0, 0, 0, 0],
    [0, 1, 0, 0, 0, 0],
    [0, 1 / 2, 1 / 2, 0, 0, 0],
    [0, 1 / 4, 7 / 12, 1 / 6, 0, 0],
    [0, 1 / 4, 7 / 12, 1 / 6, 0, 0],
    [0, 0, 2 / 3, 1 / 3, 0, 0],
    [0, 0, 1 / 3, 2 / 3, 0, 0],
    [0, 0, 1 / 6, 7 / 12, 1 / 4, 0],
    [0, 0, 1 / 6, 7 / 12, 1 / 4, 0],
    [0, 0, 0, 1 / 2, 1 / 2, 0],
    [0, 0, 0, 0, 1, 0],
    [0, 0, 0, 0, 0, 1],
  ],
};

export type SpanCount = 1 | 2 | 3;

/**
 * Basis functions as powers of the span's own parameter in [0, 1]: for span s and control k the four coefficients
 * (constant first) stand at ((s * (spans + 3)) + k) * 4.
 */
export function basisPowers(spans: SpanCount): Float64Array {
  const controls = spans + 3;
  const rows = bezierRows[spans];
  const powers = new Float64Array(spans * controls * 4);
  for (let s = 0; s < spans; s++) {
    for (let k = 0; k < controls; k++) {
      const b0 = rows[s * 4]![k]!;
      const b1 = rows[s * 4 + 1]![k]!;
      const b2 = rows[s * 4 + 2]![k]!;
      const b3 = rows[s * 4 + 3]![k]!;
      const at = (s * controls + k) * 4;
      powers[at] = b0;
      powers[at + 1] = 3 * (b1 - b0);
      powers[at + 2] = 3 * (b2 - 2 * b1 + b0);
      powers[at + 3] = b3 - 3 * b2 + 3 * b1 - b0;
    }
  }
  return powers;
}

/** The spline as Bezier segments; `controls` holds x, y pairs. */
export function splineSegments(spans: SpanCount, controls: Float64Array): CubicSegment[] {
  const rows = bezierRows[spans];
  const at = (row: number) => {
    let x = 0;
    let y = 0;
    for (let k = 0; k < spans + 3; k++) {
      x += rows[row]![k]! * controls[2 * k]!;
      y += rows[row]![k]! * controls[2 * k + 1]!;
    }
    return { x, y };
  };
  const segments: CubicSegment[] = [];
  let start = { x: controls[0]!, y: controls[1]! };
  for (let s = 0; s < spans; s++) {
    const end = at(s * 4 + 3);
    segments.push(cubic(start, at(s * 4 + 1), at(s * 4 + 2), end));
    start = end;
  }
  return segments;
}

/**
 * Controls of the spline that draws one cubic exactly, x, y pairs: the blossom of the cubic at the knots (0, 0, 1),
 * (0, 1, 2), ... counted in spans.
 */
export function controlsFromCubic(spans: SpanCount, { start, control1, control2, end }: CubicSegment): Float64Array {
  const controls = new Float64Array(2 * (spans + 3));
  for (let k = 0; k < spans + 3; k++) {
    let p: readonly Point[] = [start, control1, control2, end];
    for (let round = 0; round < 3; round++) {
      const t = Math.min(Math.max(k - 2 + round, 0), spans) / spans;
      p = p.slice(1).map((next, i) => mix(p[i]!, next, t));
    }
    controls[2 * k] = p[0]!.x;
    controls[2 * k + 1] = p[0]!.y;
  }
  return controls;
}

/** Powers of x, then of y, of every segment, constant first: 8 numbers a segment. */
export function segmentPowers(segments: readonly CubicSegment[]): Float64Array {
  const powers = new Float64Array(8 * segments.length);
  segments.forEach(({ start, control1, control2, end }, s) => {
    for (const [axis, at] of [
      ['x', 8 * s],
      ['y', 8 * s + 4],
    ] as const) {
      powers[at] = start[axis];
      powers[at + 1] = 3 * (control1[axis] - start[axis]);
      powers[at + 2] = 3 * (control2[axis] - 2 * control1[axis] + start[axis]);
      powers[at + 3] = end[axis] - start[axis] + 3 * (control1[axis] - control2[axis]);
    }
  });
  return powers;
}
