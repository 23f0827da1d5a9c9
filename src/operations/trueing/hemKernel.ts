import { closenessSums } from './hemCloseness';
import { fairnessSums } from './hemFairness';
import type { HemTarget } from './hemTarget';
import { type HemFrame, layOut, type Slopes } from './hemWorkspace';

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
