import { footFinder } from './curveFoot';
import type { HemTarget } from './hemTarget';
import type { CurveWorkspace, Slopes } from './hemWorkspace';

/** Sum of weighted squared distances from the target points to the curve, with its derivatives added to `slopes`. */
export function closenessSums(
  workspace: CurveWorkspace,
  target: HemTarget,
): (feet: Float64Array, slopes: Slopes) => number {
  const { spans, powers, curve, control, alongX, alongY } = workspace;
  const controlCount = spans + 3;
  const unknowns = control.length;
  const finder = footFinder(curve, spans);
  // Derivatives by each unknown: of the curve point along its normal and tangent, and of the pull on the foot.
  const byNormal = new Float64Array(unknowns);
  const byTangent = new Float64Array(unknowns);
  const byFoot = new Float64Array(unknowns);

  return (feet, { gradient, normal, hessian }) => {
    let sum = 0;
    for (let i = 0; i < target.count; i++) {
      finder.find(target.x[i]!, target.y[i]!, feet[i]!, target.guess[i]! * spans);
      const { foot, span, u, bx, by, dx, dy, bend } = finder;
      feet[i] = foot;
      const weight = target.weight[i]!;
      if (finder.atEnd) {
        // The nearest point is an end of the curve, which never moves.
        sum += weight * (bx * bx + by * by);
        continue;
      }
      const speed = Math.sqrt(dx * dx + dy * dy);
      const tx = dx / speed;
      const ty = dy / speed;
      const residual = tx * by - ty * bx;
      sum += weight * residual * residual;
      for (let a = 0; a < unknowns; a++) {
        const at = (span * controlCount + control[a]!) * 4;
        const value = powers[at]! + u * (powers[at + 1]! + u * (powers[at + 2]! + u * powers[at + 3]!));
        const slope = powers[at + 1]! + u * (2 * powers[at + 2]! + u * 3 * powers[at + 3]!);
        const acrossCurve = tx * alongY[a]! - ty * alongX[a]!;
        const alongCurve = tx * alongX[a]! + ty * alongY[a]!;
        byNormal[a] = value * acrossCurve;
        byTangent[a] = value * alongCurve;
        byFoot[a] = speed * value * alongCurve + residual * slope * acrossCurve;
      }
      // First order: normal part of the point's move only. In full the tangent part comes in, less what the foot
      // takes up by sliding along; see docs/maths/trueing.md.
      for (let a = 0; a < unknowns; a++) {
        gradient[a]! += weight * byNormal[a]! * residual;
        for (let b = 0; b <= a; b++) {
          const first = byNormal[a]! * byNormal[b]!;
          normal[a * unknowns + b]! += weight * first;
          hessian[a * unknowns + b]! +=
            weight * (first + byTangent[a]! * byTangent[b]! - (byFoot[a]! * byFoot[b]!) / bend);
        }
      }
    }
    return sum;
  };
}
