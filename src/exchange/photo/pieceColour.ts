import { median } from './chain';
import type { Mask } from './mask';
import type { SmallPicture } from './smallPicture';

/** The colour of a piece as it lies in uneven light: per channel six numbers for 1, u, v, u^2, u v, v^2. */
export interface PieceColour {
  readonly coefficients: readonly [readonly number[], readonly number[], readonly number[]];
  /** Coded levels: how far the piece's own dots usually lie from it. */
  readonly scatter: number;
}

/** Dots of the mask that the colour is fitted to, about. */
const samples = 4000;

/**
 * The colour over the piece as a parabolic surface in each channel, fitted to the mask so that what does not belong to
 * the piece (marks, parts of the table that got in) counts for nothing: least squares again and again with Tukey's
 * biweight (from memory). `mask` may be smaller than the picture by a whole number.
 */
export function fitPieceColour(small: SmallPicture, mask: Mask): PieceColour {
  const dots = mask.data.reduce((sum, d) => sum + d, 0);
  const every = Math.max(1, Math.floor(dots / samples));
  const scale = Math.floor(small.width / mask.width);
  const places: number[] = [];
  let passed = 0;
  for (let i = 0; i < mask.data.length; i++) {
    if (mask.data[i] === 0 || passed++ % every !== 0) continue;
    const x = (i % mask.width) * scale;
    const y = Math.floor(i / mask.width) * scale;
    places.push(y * small.width + x);
  }
  const terms = places.map((i) => termsAt(i, small.width, small.height));
  const weights = new Float64Array(places.length).fill(1);
  let coefficients: PieceColour['coefficients'] = [[], [], []];
  let scatter = 0;
  for (let round = 0; round < 8; round++) {
    coefficients = small.channels.map((channel) =>
      surfaceThrough(
        terms,
        places.map((i) => channel[i]!),
        weights,
      ),
    ) as unknown as PieceColour['coefficients'];
    const off = places.map((i, k) => {
      let sum = 0;
      for (let c = 0; c < 3; c++) sum += (small.channels[c]![i]! - dotOf(coefficients[c]!, terms[k]!)) ** 2;
      return Math.sqrt(sum);
    });
    scatter = Math.max(0.5, median(off));
    off.forEach((d, k) => {
      const r = d / (4 * scatter);
      weights[k] = r < 1 ? (1 - r * r) ** 2 : 0;
    });
  }
  return { coefficients, scatter };
}

/** A part of a picture: dots from left, top (inside) to right, bottom (outside). */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** How far the colour of every dot in the box is from the piece's there, coded levels; without end elsewhere. */
export function awayFrom(colour: PieceColour, small: SmallPicture, box: Box): Float32Array {
  const { width, height, channels } = small;
  const away = new Float32Array(width * height).fill(Number.POSITIVE_INFINITY);
  for (let y = box.top; y < box.bottom; y++) away.fill(0, y * width + box.left, y * width + box.right);
  channels.forEach((channel, c) => {
    const [k0, ku, kv, kuu, kuv, kvv] = colour.coefficients[c] as [number, number, number, number, number, number];
    for (let y = box.top; y < box.bottom; y++) {
      const v = (2 * y) / height - 1;
      const a = k0 + (kv + kvv * v) * v;
      const b = ku + kuv * v;
      for (let x = box.left; x < box.right; x++) {
        const u = (2 * x) / width - 1;
        const i = y * width + x;
        const d = channel[i]! - (a + (b + kuu * u) * u);
        away[i] = away[i]! + d * d;
      }
    }
  });
  for (let y = box.top; y < box.bottom; y++) {
    for (let i = y * width + box.left; i < y * width + box.right; i++) away[i] = Math.sqrt(away[i]!);
  }
  return away;
}

function termsAt(i: number, width: number, height: number): number[] {
  const u = (2 * (i % width)) / width - 1;
  const v = (2 * Math.floor(i / width)) / height - 1;
  return [1, u, v, u * u, u * v, v * v];
}

function dotOf(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, k) => sum + x * b[k]!, 0);
}

/** Weighted least squares by the normal equations (Cholesky), lightly damped so that a thin piece decides what it can. */
function surfaceThrough(
  terms: readonly (readonly number[])[],
  values: readonly number[],
  weights: Float64Array,
): number[] {
  const m = 6;
  const matrix = new Float64Array(m * m);
  const right = new Float64Array(m);
  let whole = 0;
  terms.forEach((t, k) => {
    const w = weights[k]!;
    if (w === 0) return;
    whole += w;
    for (let r = 0; r < m; r++) {
      right[r] = right[r]! + w * t[r]! * values[k]!;
      for (let c = 0; c <= r; c++) matrix[r * m + c] = matrix[r * m + c]! + w * t[r]! * t[c]!;
    }
  });
  for (let r = 1; r < m; r++) matrix[r * m + r] = matrix[r * m + r]! + 1e-4 * whole;
  for (let r = 0; r < m; r++) {
    for (let c = 0; c <= r; c++) {
      let sum = matrix[r * m + c]!;
      for (let k = 0; k < c; k++) sum -= matrix[r * m + k]! * matrix[c * m + k]!;
      matrix[r * m + c] = r === c ? Math.sqrt(Math.max(sum, 1e-12)) : sum / matrix[c * m + c]!;
    }
  }
  const x = [...right];
  for (let r = 0; r < m; r++) {
    for (let k = 0; k < r; k++) x[r] = x[r]! - matrix[r * m + k]! * x[k]!;
    x[r] = x[r]! / matrix[r * m + r]!;
  }
  for (let r = m - 1; r >= 0; r--) {
    for (let k = r + 1; k < m; k++) x[r] = x[r]! - matrix[k * m + r]! * x[k]!;
    x[r] = x[r]! / matrix[r * m + r]!;
  }
  return x;
}
