/** A plane of values, rows from the top. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/**
 * Largest value within `reach` dots along rows and columns (a square window), or smallest for `sign` -1. The window grows
 * by laying the plane over itself, doubling each time, so its cost hardly grows with the reach.
 */
export function extreme(plane: Plane, reach: number, sign: 1 | -1): Plane {
  if (reach < 1) return plane;
  const { width, height } = plane;
  const span = 2 * reach + 1;
  const overlay = sign > 0 ? largerOf : smallerOf;
  const rows = new Float32Array(width * height);
  const line = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const start = y * width;
    line.fill(plane.data[start]!, 0, reach);
    line.set(plane.data.subarray(start, start + width), reach);
    line.fill(plane.data[start + width - 1]!, reach + width);
    for (let covered = 1; covered < span; ) {
      const shift = Math.min(covered, span - covered);
      overlay(line, 0, shift, line, 0, line.length - shift);
      covered += shift;
    }
    rows.set(line.subarray(0, width), start);
  }
  // Columns: whole rows are laid over each other, in a plane with `reach` rows more at the top and at the bottom.
  const tall = new Float32Array(width * (height + 2 * reach));
  tall.set(rows, reach * width);
  for (let k = 0; k < reach; k++) {
    tall.set(rows.subarray(0, width), k * width);
    tall.set(rows.subarray((height - 1) * width), (reach + height + k) * width);
  }
  for (let covered = 1; covered < span; ) {
    const shift = Math.min(covered, span - covered) * width;
    overlay(tall, 0, shift, tall, 0, tall.length - shift);
    covered += shift / width;
  }
  return { width, height, data: tall.slice(0, width * height) };
}

/** Each of `count` places of `to` from `at` on becomes the larger of those `a` and `b` farther on in `from`. */
function largerOf(from: Float32Array, a: number, b: number, to: Float32Array, at: number, count: number): void {
  for (let i = 0; i < count; i++) {
    to[at + i] = Math.max(from[a + i]!, from[b + i]!);
  }
}

function smallerOf(from: Float32Array, a: number, b: number, to: Float32Array, at: number, count: number): void {
  for (let i = 0; i < count; i++) {
    to[at + i] = Math.min(from[a + i]!, from[b + i]!);
  }
}

/** Fills dark places narrower than 2 reach + 1 dots: the largest around, then the smallest of that. */
export function fillDark(plane: Plane, reach: number): Plane {
  return extreme(extreme(plane, reach, 1), reach, -1);
}
