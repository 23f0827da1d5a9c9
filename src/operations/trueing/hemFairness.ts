import { gaussLegendre } from '../../geometry/gaussLegendre';
import type { CurveWorkspace, Slopes } from './hemWorkspace';

/** The reference quadrature of the fairness term: 8 Gauss points to a span. */
const rule = gaussLegendre(8);
const nodes = Float64Array.from(rule.nodes);
const weights = Float64Array.from(rule.weights);

/**
 * Makes the function that adds `scale` times the integral of (d curvature / d length)^2 along the curve to the sums of
 * a hem fit, and returns that value.
 *
 * With v, a, j the first three derivatives by the parameter: d kappa / ds = top / |v|^6 where
 * top = (v x j)(v . v) - 3 (v x a)(v . a), so the integrand by the parameter is (top / |v|^5.5)^2.
 */
export function fairnessSums(workspace: CurveWorkspace, scale: number): (slopes: Slopes) => number {
  const { spans, powers, curve, control, alongX, alongY } = workspace;
  const controlCount = spans + 3;
  const unknowns = control.length;
  // Per unknown: how far v, a, j move along its direction, and the derivatives of the products made of them.
  const first = new Float64Array(unknowns);
  const second = new Float64Array(unknowns);
  const third = new Float64Array(unknowns);
  const bySpeed = new Float64Array(unknowns);
  const byTurning = new Float64Array(unknowns);
  const byPace = new Float64Array(unknowns);
  const byJerk = new Float64Array(unknowns);
  const byTop = new Float64Array(unknowns);
  const byResidual = new Float64Array(unknowns);

  return ({ gradient, normal, hessian }) => {
    let sum = 0;
    for (let s = 0; s < spans; s++) {
      const c = 8 * s;
      for (let i = 0; i < nodes.length; i++) {
        const u = nodes[i]!;
        const weight = scale * weights[i]!;
        const vx = curve[c + 1]! + u * (2 * curve[c + 2]! + u * 3 * curve[c + 3]!);
        const vy = curve[c + 5]! + u * (2 * curve[c + 6]! + u * 3 * curve[c + 7]!);
        const ax = 2 * curve[c + 2]! + 6 * u * curve[c + 3]!;
        const ay = 2 * curve[c + 6]! + 6 * u * curve[c + 7]!;
        const jx = 6 * curve[c + 3]!;
        const jy = 6 * curve[c + 7]!;
        const speed2 = vx * vx + vy * vy;
        const turning = vx * ay - vy * ax;
        const pace = vx * ax + vy * ay;
        const jerk = vx * jy - vy * jx;
        const top = jerk * speed2 - 3 * turning * pace;
        const shrink = speed2 ** -2.75;
        const residual = top * shrink;
        sum += weight * residual * residual;
        for (let k = 0; k < unknowns; k++) {
          const at = (s * controlCount + control[k]!) * 4;
          const v = powers[at + 1]! + u * (2 * powers[at + 2]! + u * 3 * powers[at + 3]!);
          const a = 2 * powers[at + 2]! + 6 * u * powers[at + 3]!;
          const j = 6 * powers[at + 3]!;
          const ex = alongX[k]!;
          const ey = alongY[k]!;
          const across = vx * ey - vy * ex;
          const along = vx * ex + vy * ey;
          first[k] = v;
          second[k] = a;
          third[k] = j;
          bySpeed[k] = 2 * v * along;
          byTurning[k] = v * (ex * ay - ey * ax) + a * across;
          byPace[k] = v * (ex * ax + ey * ay) + a * along;
          byJerk[k] = v * (ex * jy - ey * jx) + j * across;
          byTop[k] = byJerk[k]! * speed2 + jerk * bySpeed[k]! - 3 * (byTurning[k]! * pace + turning * byPace[k]!);
          byResidual[k] = shrink * (byTop[k]! - (2.75 * top * bySpeed[k]!) / speed2);
        }
        for (let k = 0; k < unknowns; k++) {
          gradient[k]! += weight * residual * byResidual[k]!;
          for (let l = 0; l <= k; l++) {
            const across = alongX[k]! * alongY[l]! - alongY[k]! * alongX[l]!;
            const along = alongX[k]! * alongX[l]! + alongY[k]! * alongY[l]!;
            const speed2KL = 2 * first[k]! * first[l]! * along;
            const turningKL = (first[k]! * second[l]! - second[k]! * first[l]!) * across;
            const paceKL = (first[k]! * second[l]! + second[k]! * first[l]!) * along;
            const jerkKL = (first[k]! * third[l]! - third[k]! * first[l]!) * across;
            const topKL =
              jerkKL * speed2 +
              byJerk[k]! * bySpeed[l]! +
              byJerk[l]! * bySpeed[k]! +
              jerk * speed2KL -
              3 * (turningKL * pace + byTurning[k]! * byPace[l]! + byTurning[l]! * byPace[k]! + turning * paceKL);
            const residualKL =
              shrink *
              (topKL -
                (2.75 / speed2) * (byTop[k]! * bySpeed[l]! + byTop[l]! * bySpeed[k]! + top * speed2KL) +
                ((2.75 * 3.75 * top) / (speed2 * speed2)) * bySpeed[k]! * bySpeed[l]!);
            const flat = byResidual[k]! * byResidual[l]!;
            normal[k * unknowns + l]! += weight * flat;
            hessian[k * unknowns + l]! += weight * (flat + residual * residualKL);
          }
        }
      }
    }
    return sum;
  };
}
