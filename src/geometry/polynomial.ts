/**
 * Real roots on [0, 1] of a polynomial given by its Bernstein values (its Bezier heights), in rising order.
 *
 * Between neighbouring turning points (found the same way, one degree lower) the polynomial is monotone, so a change
 * of sign there is exactly one root, found by Newton kept inside its bracket. A turning point or end whose value is
 * within `zero` of 0 is itself reported as the root, so a touch is found once and an end is found as exactly 0 or 1.
 * A polynomial that is zero throughout reports 0 and 1.
 */
export function bernsteinRoots(values: readonly number[], zero = 0): number[] {
  const degree = values.length - 1;
  if (degree < 0 || keepsOneSign(values, zero)) return [];
  const nodes = [0];
  if (degree > 1) {
    const slopes: number[] = [];
    for (let i = 0; i < degree; i++) slopes.push(values[i + 1]! - values[i]!);
    for (const turning of bernsteinRoots(slopes)) {
      if (turning > nodes[nodes.length - 1]! && turning < 1) nodes.push(turning);
    }
  }
  nodes.push(1);
  const powers = powerForm(values);
  const roots: number[] = [];
  let t0 = 0;
  let f0 = values[0]!;
  if (Math.abs(f0) <= zero) roots.push(0);
  for (let i = 1; i < nodes.length; i++) {
    const t1 = nodes[i]!;
    // The exact end value, so that a path's neighbouring segments agree about their shared point.
    const f1 = t1 === 1 ? values[degree]! : horner(powers, t1);
    if (Math.abs(f1) <= zero) roots.push(t1);
    else if (Math.abs(f0) > zero && f0 > 0 !== f1 > 0) roots.push(bracketedRoot(powers, t0, f0, t1));
    t0 = t1;
    f0 = f1;
  }
  return roots;
}

function keepsOneSign(values: readonly number[], zero: number): boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return low > zero || high < -zero;
}

/** Coefficients by rising power of t from Bernstein values: binomial(n, k) times the k-th forward difference. */
function powerForm(values: readonly number[]): number[] {
  const differences = values.slice();
  const powers: number[] = [];
  const degree = values.length - 1;
  let binomial = 1;
  for (let k = 0; k <= degree; k++) {
    powers.push(binomial * differences[0]!);
    for (let i = 0; i < degree - k; i++) differences[i] = differences[i + 1]! - differences[i]!;
    binomial = (binomial * (degree - k)) / (k + 1);
  }
  return powers;
}

function horner(powers: readonly number[], t: number): number {
  let value = 0;
  for (let k = powers.length - 1; k >= 0; k--) value = value * t + powers[k]!;
  return value;
}

/** The one root between a and b, where the values have opposite signs. */
function bracketedRoot(powers: readonly number[], a: number, fa: number, b: number): number {
  let low = fa < 0 ? a : b;
  let high = fa < 0 ? b : a;
  let t = (a + b) / 2;
  for (let step = 0; step < 100; step++) {
    let value = 0;
    let slope = 0;
    for (let k = powers.length - 1; k >= 0; k--) {
      slope = slope * t + value;
      value = value * t + powers[k]!;
    }
    if (value === 0) return t;
    if (value < 0) low = t;
    else high = t;
    let next = t - value / slope;
    // Inside the bracket and not merely creeping along it; otherwise halve.
    if (!((next - low) * (next - high) < 0)) next = (low + high) / 2;
    if (Math.abs(next - t) <= 2.3e-16) return next;
    t = next;
  }
  return t;
}
