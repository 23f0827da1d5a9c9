import type { CubicSegment } from '../../geometry/segment';
import { curveFromAxes, frameInAxes, hemAxes, targetInAxes } from './hemAxes';
import { descend } from './hemDescent';
import { hemKernel } from './hemKernel';
import { firstFeet, heldUnknowns, type LocalProblem, promisingMinima, type SetHandles } from './hemSearch';
import { splineSegments } from './hemSpline';
import { coarseTarget, exactTarget, type HemRun, type HemTarget } from './hemTarget';
import type { HemFrame } from './hemWorkspace';

export interface HemProblem {
  readonly frame: HemFrame;
  readonly run: HemRun;
  readonly handles: SetHandles;
}

export interface HemFit {
  /** From the centre line to the side. */
  readonly segments: readonly CubicSegment[];
  readonly handles: { readonly start: number; readonly end: number };
  /** Value of the functional, mm3. */
  readonly objective: number;
  /** Integral of the squared distances to the target, mm3. */
  readonly closeness: number;
  readonly target: HemTarget;
  /** Parameter on the curve of the point nearest to each target point, in spans. */
  readonly feet: Float64Array;
}

/** Values of the functional this near to one another, relative, are the same. */
const equallyGood = 1e-9;

/**
 * The fair hem curve: least squares to the target with given end tangents and a fairness term, by the functional and
 * quadrature of docs/maths/trueing.md.
 *
 * Five starts are run on few points: the linear one to the bottom, the leaning ones as long as they promise; when the
 * first already lies within a pencil line of the strips no other can matter and they are left out. The best, and a
 * rival nearly as good, are carried to convergence on the exact sums.
 */
export function fitHem(problem: HemProblem): HemFit {
  const { frame, run, handles } = problem;
  const { spans, length } = frame;
  const axes = hemAxes(frame, run.outward);
  const local: LocalProblem = {
    frame: frameInAxes(frame, axes),
    handles,
    points: targetInAxes(coarseTarget(run), axes),
  };
  const target = exactTarget(run);
  const exact = hemKernel(local.frame, targetInAxes(target, axes));
  let best: HemFit | null = null;
  for (const { q } of promisingMinima(local)) {
    const feet = firstFeet(target, spans);
    const objective = descend(exact, q, feet, heldUnknowns(handles, spans), {
      step: length * 1e-9,
      rounds: 60,
      damping: 1e-6,
      longestStep: length * 0.05,
      smallestHandle: length * 1e-3,
    });
    if (best !== null && !isBetter(objective, q[0]!, best)) continue;
    const found = { start: q[0]!, end: q[1]! };
    best = {
      segments: curveFromAxes(splineSegments(spans, exact.controls), axes, frame, found),
      handles: found,
      objective,
      closeness: exact.closeness(),
      target,
      feet,
    };
  }
  return best!;
}

/** Lower by more than rounding; of two hems that are equally good the one with the longer handle at the start. */
function isBetter(objective: number, startHandle: number, best: HemFit): boolean {
  const margin = equallyGood * best.objective;
  if (Math.abs(objective - best.objective) > margin) return objective < best.objective;
  return startHandle > best.handles.start;
}
