/** How much of each dot a shape covers, 0 to 1, within a box of the picture. */
export interface Coverage {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/**
 * The exact area that closed chains of straight chords (x, y, x, y ... in dots) cover of each dot of a picture.
 *
 * Every chord adds to the dots it crosses the signed area to its right, and to the next dot the rest; sums along the rows
 * then give the area (Green's theorem, dot by dot). Parts covered twice the same way round are cut off at 1.
 */
export function coverage(loops: readonly Float64Array[], pictureWidth: number, pictureHeight: number): Coverage | null {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (const loop of loops) {
    for (let i = 0; i < loop.length; i += 2) {
      minX = Math.min(minX, loop[i]!);
      maxX = Math.max(maxX, loop[i]!);
      minY = Math.min(minY, loop[i + 1]!);
      maxY = Math.max(maxY, loop[i + 1]!);
    }
  }
  const left = Math.max(0, Math.floor(minX));
  const top = Math.max(0, Math.floor(minY));
  const width = Math.min(pictureWidth, Math.ceil(maxX)) - left;
  const height = Math.min(pictureHeight, Math.ceil(maxY)) - top;
  if (!(width > 0 && height > 0)) return null;
  // Two spare places a row: a chord at the very right edge writes beyond the last dot.
  const stride = width + 2;
  const sums = new Float64Array(stride * height);
  for (const loop of loops) {
    const n = loop.length;
    for (let i = 0; i < n; i += 2) {
      const j = (i + 2) % n;
      addChord(sums, stride, width, height, loop[i]! - left, loop[i + 1]! - top, loop[j]! - left, loop[j + 1]! - top);
    }
  }
  const data = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    let sum = 0;
    for (let x = 0; x < width; x++) {
      sum += sums[y * stride + x]!;
      data[y * width + x] = Math.min(1, Math.abs(sum));
    }
  }
  return { left, top, width, height, data };
}

function addChord(
  sums: Float64Array,
  stride: number,
  width: number,
  height: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): void {
  if (ay === by) return;
  const sign = ay < by ? 1 : -1;
  const [x0, y0, x1, y1] = ay < by ? [ax, ay, bx, by] : [bx, by, ax, ay];
  const slope = (x1 - x0) / (y1 - y0);
  const first = Math.max(0, Math.floor(y0));
  const last = Math.min(height - 1, Math.ceil(y1) - 1);
  for (let row = first; row <= last; row++) {
    const from = Math.max(y0, row);
    const to = Math.min(y1, row + 1);
    if (to <= from) continue;
    addSpan(sums, row * stride, width, x0 + (from - y0) * slope, x0 + (to - y0) * slope, sign * (to - from));
  }
}

/** One row's part of a chord: it rises by `rise` while x goes from xa to xb. */
function addSpan(sums: Float64Array, at: number, width: number, xa: number, xb: number, rise: number): void {
  const low = Math.min(xa, xb);
  const high = Math.max(xa, xb);
  if (low >= width) return;
  if (high <= 0) {
    sums[at] = sums[at]! + rise;
    return;
  }
  if (low < 0 || high > width) {
    // Cut at the borders: what is left of the picture counts for its first dot, what is right of it for none.
    const perX = rise / (high - low);
    if (low < 0) sums[at] = sums[at]! + perX * -low;
    const a = Math.max(0, low);
    const b = Math.min(width, high);
    if (b > a) addInside(sums, at, a, b, perX * (b - a));
    return;
  }
  addInside(sums, at, low, high, rise);
}

function addInside(sums: Float64Array, at: number, low: number, high: number, rise: number): void {
  const first = Math.floor(low);
  const last = Math.floor(high);
  if (first === last) {
    const uncovered = (low + high) / 2 - first;
    sums[at + first] = sums[at + first]! + rise * (1 - uncovered);
    sums[at + first + 1] = sums[at + first + 1]! + rise * uncovered;
    return;
  }
  const perX = rise / (high - low);
  for (let x = first; x <= last; x++) {
    const a = Math.max(low, x);
    const b = Math.min(high, x + 1);
    if (b <= a) continue;
    const uncovered = (a + b) / 2 - x;
    sums[at + x] = sums[at + x]! + perX * (b - a) * (1 - uncovered);
    sums[at + x + 1] = sums[at + x + 1]! + perX * (b - a) * uncovered;
  }
}
