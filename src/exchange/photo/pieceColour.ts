import { median } from './chain';
import { dotsOf, type Mask } from './mask';
import type { Plane } from './slidingExtreme';
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
  const dots = dotsOf(mask);
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
  const count = places.length;
  const terms = new Float64Array(6 * count);
  places.forEach((i, k) => {
    const u = (2 * (i % small.width)) / small.width - 1;
    const v = (2 * Math.floor(i / small.width)) / small.height - 1;
    terms.set([1, u, v, u * u, u * v, v * v], 6 * k);
  });
  const values = small.channels.map((channel) => Float64Array.from(places, (i) => channel[i]!));
  const weights = new Float64Array(count).fill(1);
  const squares = new Float64Array(count);
  let coefficients: PieceColour['coefficients'] = [[], [], []];
  let scatter = 0;
  for (let round = 0; round < 8; round++) {
    const solve = surfacesThrough(terms, weights);
    coefficients = values.map(solve) as unknown as PieceColour['coefficients'];
    squares.fill(0);
    values.forEach((channel, c) => {
      const [k0, k1, k2, k3, k4, k5] = coefficients[c] as [number, number, number, number, number, number];
      for (let k = 0, t = 0; k < count; k++, t += 6) {
        const there =
          k0 * terms[t]! +
          k1 * terms[t + 1]! +
          k2 * terms[t + 2]! +
          k3 * terms[t + 3]! +
          k4 * terms[t + 4]! +
          k5 * terms[t + 5]!;
        squares[k] = squares[k]! + (channel[k]! - there) ** 2;
      }
    });
    const off = squares.map(Math.sqrt);
    scatter = Math.max(0.5, median(off));
    for (let k = 0; k < count; k++) {
      const r = off[k]! / (4 * scatter);
      weights[k] = r < 1 ? (1 - r * r) ** 2 : 0;
    }
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

/** How far the colour of every dot in the box is from the piece's there, coded levels; the plane is the box. */
export function awayFrom(colour: PieceColour, small: SmallPicture, box: Box): Plane {
  const { width, height, channels } = small;
  const across = box.right - box.left;
  const down = box.bottom - box.top;
  const away = new Float32Array(across * down);
  channels.forEach((channel, c) => {
    const [k0, ku, kv, kuu, kuv, kvv] = colour.coefficients[c] as [number, number, number, number, number, number];
    for (let y = box.top, i = 0; y < box.bottom; y++) {
      const v = (2 * y) / height - 1;
      const a = k0 + (kv + kvv * v) * v;
      const b = ku + kuv * v;
      for (let x = box.left; x < box.right; x++, i++) {
        const u = (2 * x) / width - 1;
        const d = channel[y * width + x]! - (a + (b + kuu * u) * u);
        away[i] = away[i]! + d * d;
      }
    }
  });
  for (let i = 0; i < away.length; i++) away[i] = Math.sqrt(away[i]!);
  return { width: across, height: down, data: away };
}

/**
 * Weighted least squares by the normal equations (Cholesky), lightly damped so that a thin piece decides what it can.
 * Answers what gives the coefficients for the values of one channel.
 */
function surfacesThrough(terms: Float64Array, weights: Float64Array): (values: Float64Array) => readonly number[] {
  const m = 6;
  const matrix = new Float64Array(m * m);
  let whole = 0;
  for (let k = 0; k < weights.length; k++) {
    const w = weights[k]!;
    if (w === 0) continue;
    whole += w;
    for (let r = 0; r < m; r++) {
      const wr = w * terms[m * k + r]!;
      for (let c = 0; c <= r; c++) matrix[r * m + c] = matrix[r * m + c]! + wr * terms[m * k + c]!;
    }
  }
  for (let r = 1; r < m; r++) matrix[r * m + r] = matrix[r * m + r]! + 1e-4 * whole;
  for (let r = 0; r < m; r++) {
    for (let c = 0; c <= r; c++) {
      let sum = matrix[r * m + c]!;
      for (let k = 0; k < c; k++) sum -= matrix[r * m + k]! * matrix[c * m + k]!;
      matrix[r * m + c] = r === c ? Math.sqrt(Math.max(sum, 1e-12)) : sum / matrix[c * m + c]!;
    }
  }
  return (values) => {
    const x = new Float64Array(m);
    for (let k = 0; k < weights.length; k++) {
      const w = weights[k]!;
      if (w === 0) continue;
      for (let r = 0; r < m; r++) x[r] = x[r]! + w * terms[m * k + r]! * values[k]!;
    }
    for (let r = 0; r < m; r++) {
      for (let k = 0; k < r; k++) x[r] = x[r]! - matrix[r * m + k]! * x[k]!;
      x[r] = x[r]! / matrix[r * m + r]!;
    }
    for (let r = m - 1; r >= 0; r--) {
      for (let k = r + 1; k < m; k++) x[r] = x[r]! - matrix[k * m + r]! * x[k]!;
      x[r] = x[r]! / matrix[r * m + r]!;
    }
    return [...x];
  };
}
