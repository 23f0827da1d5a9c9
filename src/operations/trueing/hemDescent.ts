import type { HemKernel } from './hemKernel';
import { emptySlopes } from './hemWorkspace';

export interface DescentLimits {
  /** Stop when no unknown moves more than this, mm. */
  readonly step: number;
  readonly rounds: number;
  /** Damping to start with, relative to the diagonal. */
  readonly damping: number;
  /** No unknown moves further than this in one step, mm. */
  readonly longestStep: number;
  /** A handle is never let below this, mm. */
  readonly smallestHandle: number;
}

/**
 * Damped Newton (Levenberg-Marquardt) on a hem kernel, in place on `q` and `feet`. Where the full second derivatives
 * are not those of a valley, the first-order ones take their place. `held` marks unknowns the maker has set.
 * Leaves the kernel evaluated at the answer and returns the value of the functional there.
 */
export function descend(
  kernel: HemKernel,
  q: Float64Array,
  feet: Float64Array,
  held: readonly boolean[],
  limits: DescentLimits,
): number {
  const n = kernel.unknowns;
  const trial = new Float64Array(n);
  const step = new Float64Array(n);
  const trialFeet = new Float64Array(feet.length);
  const factor = new Float64Array(n * n);
  let slopes = emptySlopes(n);
  let trialSlopes = emptySlopes(n);
  let value = kernel.evaluate(q, feet, slopes);
  let damping = limits.damping;
  let harder = 2;
  let atAnswer = true;
  for (let round = 0; round < limits.rounds; round++) {
    let second = slopes.hessian;
    if (!solveDamped(second, slopes.gradient, held, damping, factor, step)) {
      second = slopes.normal;
      // Sums that say nothing about a direction, as on a perfectly straight hem: there is nothing to improve.
      if (!solveDamped(second, slopes.gradient, held, damping, factor, step)) step.fill(0);
    }
    // Far from the bottom the model is only good nearby: longer steps are shortened, keeping their direction.
    const reach = step.reduce((most, move) => Math.max(most, Math.abs(move)), 0);
    const shorten = reach > limits.longestStep ? limits.longestStep / reach : 1;
    let largest = 0;
    let promised = 0;
    for (let i = 0; i < n; i++) {
      const move = shorten * step[i]!;
      let next = q[i]! + move;
      if (i < 2 && !held[i] && next < limits.smallestHandle) next = Math.max(q[i]! / 2, limits.smallestHandle);
      trial[i] = next;
      largest = Math.max(largest, Math.abs(next - q[i]!));
      promised += move * (damping * second[i * n + i]! * move - slopes.gradient[i]! * (2 - shorten));
    }
    trialFeet.set(feet);
    const trialValue = kernel.evaluate(trial, trialFeet, trialSlopes);
    // Near the bottom rounding decides the sign of the change while the gradient still points true, so a change
    // within rounding is taken either way.
    if (trialValue <= value * (1 + 1e-11)) {
      // Damping by how well the promise was kept (Nielsen, IMM-REP-1999-05).
      const kept = (value - trialValue) / promised;
      damping *= Math.max(1 / 10, 1 - (2 * kept - 1) ** 3);
      harder = 2;
      q.set(trial);
      feet.set(trialFeet);
      [slopes, trialSlopes] = [trialSlopes, slopes];
      value = trialValue;
      atAnswer = true;
      if (largest < limits.step) break;
    } else {
      damping *= harder;
      harder *= 2;
      atAnswer = false;
      if (largest < limits.step) break;
    }
  }
  if (!atAnswer) value = kernel.evaluate(q, feet, slopes);
  return value;
}

/**
 * Solves (matrix + damping diag(matrix)) step = -gradient by Cholesky, from the lower triangle; held unknowns get a
 * zero step. False when the damped matrix is not positive.
 */
export function solveDamped(
  matrix: Float64Array,
  gradient: Float64Array,
  held: readonly boolean[],
  damping: number,
  factor: Float64Array,
  step: Float64Array,
): boolean {
  const n = gradient.length;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum: number;
      if (held[i] || held[j]) sum = i === j ? 1 : 0;
      else sum = i === j ? matrix[i * n + i]! * (1 + damping) : matrix[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= factor[i * n + k]! * factor[j * n + k]!;
      if (i !== j) factor[i * n + j] = sum / factor[j * n + j]!;
      else if (sum > 0) factor[i * n + i] = Math.sqrt(sum);
      else return false;
    }
  }
  for (let i = 0; i < n; i++) {
    let sum = held[i] ? 0 : -gradient[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * n + k]! * step[k]!;
    step[i] = sum / factor[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = step[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i]! * step[k]!;
    step[i] = sum / factor[i * n + i]!;
  }
  return true;
}
