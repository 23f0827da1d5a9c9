import type { Point } from '../../geometry/point';
import { footFinder } from './curveFoot';
import { fairnessSums } from './hemFairness';
import { basisPowers, type SpanCount } from './hemSpline';
import type { HemTarget } from './hemTarget';

/** The fixed frame of one hem fit. Tangents are unit vectors along the travel from start to end. */
export interface HemFrame {
  readonly start: Point;
  readonly end: Point;
  readonly startTangent: Point;
  readonly endTangent: Point;
  readonly spans: SpanCount;
  /** Weight of fairness, no unit. */
  readonly fairness: number;
  /** Arc-bridged length of the hem, mm; makes the fairness term independent of size. */
  readonly length: number;
}

/** Half the gradient of the functional and half its second derivatives, row-major, lower triangles only. */
export interface Slopes {
  readonly gradient: Float64Array;
  /** First-order (Gauss-Newton) second derivatives: never negative. */
  readonly normal: Float64Array;
  /** Full second derivatives. */
  readonly hessian: Float64Array;
}

export function emptySlopes(unknowns: number): Slopes {
  return {
    gradient: new Float64Array(unknowns),
    normal: new Float64Array(unknowns * unknowns),
    hessian: new Float64Array(unknowns * unknowns),
  };
}

/** The curve being fitted, in the form the sums want it. Shared by the closeness and the fairness sums. */
export interface CurveWorkspace {
  readonly spans: SpanCount;
  /** Basis functions as powers; see `basisPowers`. */
  readonly powers: Float64Array;
  /** Powers of x, then of y, of every span: 8 numbers a span. */
  readonly curve: Float64Array;
  /** Unknown i moves control `control[i]` along (`alongX[i]`, `alongY[i]`). */
  readonly control: Int32Array;
  readonly alongX: Float64Array;
  readonly alongY: Float64Array;
}

/**
 * The functional of a hem fit and its derivatives, evaluated without allocating.
 * Unknowns: handle at the start, handle at the end, then x, y of the inner controls.
 */
export interface HemKernel {
  readonly unknowns: number;
  /** Controls of the curve last evaluated, x, y pairs. */
  readonly controls: Float64Array;
  /** The functional at q, mm3. `feet` holds first guesses for the nearest points and is improved in place. */
  evaluate(q: Float64Array, feet: Float64Array, slopes: Slopes): number;
  /** The closeness in the last value: the integral of squared distances, mm3. */
  closeness(): number;
}

export function hemKernel(frame: HemFrame, target: HemTarget): HemKernel {
  const { spans } = frame;
  const controlCount = spans + 3;
  const controls = new Float64Array(2 * controlCount);
  const workspace = layOut(frame);
  const spread = closenessSums(workspace, target);
  const unfairness = fairnessSums(workspace, frame.fairness * frame.length ** 6);
  let lastCloseness = 0;

  function placeCurve(q: Float64Array): void {
    const { curve, powers, control, alongX, alongY } = workspace;
    controls.fill(0);
    controls[0] = controls[2] = frame.start.x;
    controls[1] = controls[3] = frame.start.y;
    const last = 2 * (controlCount - 1);
    controls[last] = controls[last - 2] = frame.end.x;
    controls[last + 1] = controls[last - 1] = frame.end.y;
    for (let i = 0; i < q.length; i++) {
      controls[2 * control[i]!]! += q[i]! * alongX[i]!;
      controls[2 * control[i]! + 1]! += q[i]! * alongY[i]!;
    }
    curve.fill(0);
    for (let s = 0; s < spans; s++) {
      for (let k = 0; k < controlCount; k++) {
        const at = (s * controlCount + k) * 4;
        for (let power = 0; power < 4; power++) {
          curve[8 * s + power]! += powers[at + power]! * controls[2 * k]!;
          curve[8 * s + 4 + power]! += powers[at + power]! * controls[2 * k + 1]!;
        }
      }
    }
  }

  return {
    unknowns: 2 * spans,
    controls,
    evaluate(q, feet, slopes) {
      placeCurve(q);
      slopes.gradient.fill(0);
      slopes.normal.fill(0);
      slopes.hessian.fill(0);
      lastCloseness = spread(feet, slopes);
      return lastCloseness + unfairness(slopes);
    },
    closeness: () => lastCloseness,
  };
}

export function layOut(frame: HemFrame): CurveWorkspace {
  const { spans, startTangent, endTangent } = frame;
  const control = [1, spans + 1];
  const alongX = [startTangent.x, -endTangent.x];
  const alongY = [startTangent.y, -endTangent.y];
  for (let k = 2; k <= spans; k++) {
    control.push(k, k);
    alongX.push(1, 0);
    alongY.push(0, 1);
  }
  return {
    spans,
    powers: basisPowers(spans),
    curve: new Float64Array(8 * spans),
    control: Int32Array.from(control),
    alongX: Float64Array.from(alongX),
    alongY: Float64Array.from(alongY),
  };
}

/** Sum of weighted squared distances from the target points to the curve, with its derivatives added to `slopes`. */
function closenessSums(workspace: CurveWorkspace, target: HemTarget): (feet: Float64Array, slopes: Slopes) => number {
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
