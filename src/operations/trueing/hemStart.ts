import { solveDamped } from './hemDescent';
import type { HemTarget } from './hemTarget';
import { type CurveWorkspace, type HemFrame, layOut } from './hemWorkspace';

/**
 * Unknowns of the curve that is nearest to the target when every target point keeps its own parameter, here its
 * fraction of the hem's length: plain linear least squares (Schneider, Graphics Gems, 1990, for one span), good
 * enough to start from. `fixed` gives the unknowns that are set; NaN leaves one free.
 */
export function linearStart(frame: HemFrame, target: HemTarget, fixed: Float64Array): Float64Array {
  const workspace: CurveWorkspace = layOut(frame);
  const { spans, powers, control, alongX, alongY } = workspace;
  const controls = spans + 3;
  const n = control.length;
  const held = Array.from(fixed, (value) => !Number.isNaN(value));
  const basis = new Float64Array(controls);
  const matrix = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  for (let i = 0; i < target.count; i++) {
    const at = target.guess[i]! * spans;
    const span = Math.min(Math.floor(at), spans - 1);
    const u = at - span;
    for (let k = 0; k < controls; k++) {
      const from = (span * controls + k) * 4;
      basis[k] = powers[from]! + u * (powers[from + 1]! + u * (powers[from + 2]! + u * powers[from + 3]!));
    }
    // The curve with every free unknown at zero, less the target point.
    const first = basis[0]! + basis[1]!;
    const last = basis[controls - 2]! + basis[controls - 1]!;
    let rx = first * frame.start.x + last * frame.end.x - target.x[i]!;
    let ry = first * frame.start.y + last * frame.end.y - target.y[i]!;
    for (let a = 0; a < n; a++) {
      if (!held[a]) continue;
      rx += basis[control[a]!]! * fixed[a]! * alongX[a]!;
      ry += basis[control[a]!]! * fixed[a]! * alongY[a]!;
    }
    const weight = target.weight[i]!;
    for (let a = 0; a < n; a++) {
      const ax = basis[control[a]!]! * alongX[a]!;
      const ay = basis[control[a]!]! * alongY[a]!;
      gradient[a]! += weight * (ax * rx + ay * ry);
      for (let b = 0; b <= a; b++) {
        const other = basis[control[b]!]!;
        matrix[a * n + b]! += weight * other * (ax * alongX[b]! + ay * alongY[b]!);
      }
    }
  }
  const q = new Float64Array(n);
  solveDamped(matrix, gradient, held, 1e-9, new Float64Array(n * n), q);
  for (let a = 0; a < n; a++) if (held[a]) q[a] = fixed[a]!;
  return q;
}
