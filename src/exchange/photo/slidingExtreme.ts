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
  const rows = new Float32Array(plane.data.length);
  const line = new Float32Array(Math.max(width, height) + 2 * reach);
  for (let y = 0; y < height; y++) {
    windowOf(plane.data, y * width, width, reach, sign, line, rows);
  }
  const data = new Float32Array(plane.data.length);
  // Columns go through blocks of rows laid side by side in memory: one pass down per column would miss the cache.
  const span = 2 * reach + 1;
  let from = rows;
  let covered = 1;
  while (covered < span) {
    const shift = Math.min(covered, span - covered);
    const to = new Float32Array(from.length);
    for (let y = 0; y < height; y++) {
      const other = Math.min(height - 1, y + shift);
      const a = y * width;
      const b = other * width;
      for (let x = 0; x < width; x++) {
        const u = from[a + x]!;
        const v = from[b + x]!;
        to[a + x] = u > v === sign > 0 ? u : v;
      }
    }
    from = to;
    covered += shift;
  }
  // `from` at row y covers y to y + 2 reach; the window around y begins `reach` above it.
  for (let y = 0; y < height; y++) {
    const source = y - reach;
    if (source >= 0) data.set(from.subarray(source * width, (source + 1) * width), y * width);
    else {
      const out = data.subarray(y * width, (y + 1) * width);
      out.set(rows.subarray(0, width));
      for (let row = 1; row <= Math.min(height - 1, y + reach); row++) {
        for (let x = 0; x < width; x++) {
          const v = rows[row * width + x]!;
          if (v > out[x]! === sign > 0) out[x] = v;
        }
      }
    }
  }
  return { width, height, data };
}

function windowOf(
  source: Float32Array,
  start: number,
  count: number,
  reach: number,
  sign: 1 | -1,
  line: Float32Array,
  out: Float32Array,
): void {
  const n = count + 2 * reach;
  for (let i = 0; i < n; i++) {
    line[i] = source[start + Math.min(count - 1, Math.max(0, i - reach))]!;
  }
  const span = 2 * reach + 1;
  let covered = 1;
  while (covered < span) {
    const shift = Math.min(covered, span - covered);
    for (let i = 0; i + shift < n; i++) {
      const u = line[i]!;
      const v = line[i + shift]!;
      line[i] = u > v === sign > 0 ? u : v;
    }
    covered += shift;
  }
  for (let i = 0; i < count; i++) out[start + i] = line[i]!;
}

/** Fills dark places narrower than 2 reach + 1 dots: the largest around, then the smallest of that. */
export function fillDark(plane: Plane, reach: number): Plane {
  return extreme(extreme(plane, reach, 1), reach, -1);
}
