/** A closed chain of places in order, dots or mm; the last is followed by the first. */
export interface Chain {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
}

/** The chain with places every `step` (or a little less) along it. */
export function evenly(chain: Chain, step: number): Chain {
  const { xs, ys } = chain;
  const n = xs.length;
  const along = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    along[i + 1] = along[i]! + Math.hypot(xs[j]! - xs[i]!, ys[j]! - ys[i]!);
  }
  const whole = along[n]!;
  const count = Math.max(8, Math.ceil(whole / step));
  const outX = new Float64Array(count);
  const outY = new Float64Array(count);
  let i = 0;
  for (let k = 0; k < count; k++) {
    const at = (k * whole) / count;
    while (i < n - 1 && along[i + 1]! <= at) i++;
    const gap = along[i + 1]! - along[i]!;
    const t = gap > 0 ? (at - along[i]!) / gap : 0;
    const j = (i + 1) % n;
    outX[k] = xs[i]! + t * (xs[j]! - xs[i]!);
    outY[k] = ys[i]! + t * (ys[j]! - ys[i]!);
  }
  return { xs: outX, ys: outY };
}

/** Every place averaged with its neighbours by a Gaussian whose deviation is `sigma` places. */
export function smoothed(chain: Chain, sigma: number): Chain {
  return { xs: smoothedValues(chain.xs, sigma), ys: smoothedValues(chain.ys, sigma) };
}

/** Values round a closed chain, averaged with their neighbours by a Gaussian whose deviation is `sigma` places. */
export function smoothedValues(values: Float64Array, sigma: number): Float64Array {
  const n = values.length;
  const reach = Math.min(Math.ceil(3 * sigma), (n - 1) >> 1);
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma ** 2)),
  );
  const whole = weights.reduce((sum, w) => sum + w, 0);
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let k = -reach; k <= reach; k++) sum += weights[k + reach]! * values[(i + k + n) % n]!;
    out[i] = sum / whole;
  }
  return out;
}

/** Unit normals, out of what lies at the right hand of travel, from the chord between the places `reach` before and after. */
export function normalsOf(chain: Chain, reach: number): Chain {
  const { xs, ys } = chain;
  const n = xs.length;
  const nx = new Float64Array(n);
  const ny = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const a = (i - reach + n) % n;
    const b = (i + reach) % n;
    const dx = xs[b]! - xs[a]!;
    const dy = ys[b]! - ys[a]!;
    const length = Math.hypot(dx, dy) || 1;
    nx[i] = dy / length;
    ny[i] = -dx / length;
  }
  return { xs: nx, ys: ny };
}

/** Each place moved along its normal by its own offset. */
export function moved(chain: Chain, normals: Chain, offsets: Float64Array): Chain {
  return {
    xs: chain.xs.map((x, i) => x + normals.xs[i]! * offsets[i]!),
    ys: chain.ys.map((y, i) => y + normals.ys[i]! * offsets[i]!),
  };
}

/** The middle value; of two, the upper. Zero of none. */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/** The middle value of the first `count`; of two, the upper. Zero of none. Their order is lost. */
export function medianInPlace(values: Float64Array, count: number): number {
  return count === 0 ? 0 : ranked(values, count, count >> 1);
}

/** The value below which a share of them lies, a little loosely. Zero of none. */
export function quantile(values: ArrayLike<number>, share: number): number {
  const count = values.length;
  if (count === 0) return 0;
  return ranked(new Float64Array(values), count, Math.min(count - 1, Math.floor(share * count)));
}

/** The value of this rank among the first `count` (Hoare's selection: only the part that holds the rank is divided further). */
function ranked(v: Float64Array, count: number, rank: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = v[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (v[i]! < pivot) i++;
      while (v[j]! > pivot) j--;
      if (i > j) break;
      const kept = v[i]!;
      v[i++] = v[j]!;
      v[j--] = kept;
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return v[rank]!;
}
