import { add, scale } from '../../geometry/point';
import { type CubicSegment, cubic } from '../../geometry/segment';
import { pencilLine } from '../../geometry/tolerance';
import { curveFromAxes, frameInAxes, hemAxes, targetInAxes } from './hemAxes';
import { descend } from './hemDescent';
import { type HemFrame, hemKernel } from './hemKernel';
import { controlsFromCubic, splineSegments } from './hemSpline';
import { linearStart } from './hemStart';
import { coarseTarget, exactTarget, type HemRun, type HemTarget } from './hemTarget';

export interface HemProblem {
  readonly frame: HemFrame;
  readonly run: HemRun;
  /** Handle lengths set by the maker, mm; null lets the fit choose. */
  readonly handles: { readonly start: number | null; readonly end: number | null };
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

/**
 * Handle lengths to start from, as multiples of those of the linear start. Mirror minima exist, where the curve is
 * full at one end or at the other, so both leans are tried.
 */
const leans: readonly (readonly [number, number])[] = [
  [0.5, 1.5],
  [1.5, 0.5],
  [0.5, 0.5],
  [1.5, 1.5],
];

/**
 * How thoroughly minima are looked for. One span is drawn live and has few; with more spans there are more of them,
 * some nearly as good as the best.
 */
interface Search {
  /** After this many rounds a start that is not yet within `hopeless` of the best is given up. */
  readonly trialRounds: number;
  readonly hopeless: number;
  /** A minimum on the few points within this factor of the best may still win on the exact sums. */
  readonly rivalFactor: number;
  /** Leaning starts are left out when the first minimum lies this near to the strips (root mean square), mm. */
  readonly nearEnough: number;
}
const oneSpan: Search = { trialRounds: 4, hopeless: 2, rivalFactor: 1.3, nearEnough: pencilLine };
const moreSpans: Search = { trialRounds: 15, hopeless: 5, rivalFactor: 2, nearEnough: 0 };

/** Minima whose unknowns differ by less than this part of the hem's length are the same. */
const sameMinimum = 0.02;

/** Values of the functional this near to one another, relative, are the same. */
const equallyGood = 1e-9;

interface Candidate {
  readonly q: Float64Array;
  readonly value: number;
  readonly closeness: number;
}

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
  const candidates = roughMinima(local);
  const { rivalFactor } = searchFor(spans);
  const target = exactTarget(run);
  const exact = hemKernel(local.frame, targetInAxes(target, axes));
  let best: HemFit | null = null;
  for (const { q, value } of candidates) {
    if (value > rivalFactor * candidates[0]!.value) break;
    const feet = firstFeet(target, spans);
    const objective = descend(exact, q, feet, heldUnknowns(handles, spans), {
      step: length * 1e-7,
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

/** A hem problem in its own axes, with the few points. */
interface LocalProblem {
  readonly frame: HemFrame;
  readonly handles: HemProblem['handles'];
  readonly points: HemTarget;
}

/** Distinct minima of the functional on few points, best first. */
function roughMinima({ frame, handles, points }: LocalProblem): Candidate[] {
  const { spans, length } = frame;
  const { trialRounds, hopeless, nearEnough } = searchFor(spans);
  const held = heldUnknowns(handles, spans);
  const kernel = hemKernel(frame, points);
  const feet = new Float64Array(points.count);
  const descent = (q: Float64Array, rounds: number): Candidate => {
    feet.set(firstFeet(points, spans));
    const value = descend(kernel, q, feet, held, {
      step: length * 1e-4,
      rounds,
      damping: 1e-4,
      longestStep: length * 0.05,
      smallestHandle: length * 1e-3,
    });
    return { q, value, closeness: kernel.closeness() };
  };
  const fixed = new Float64Array(2 * spans).fill(Number.NaN);
  if (handles.start !== null) fixed[0] = handles.start;
  if (handles.end !== null) fixed[1] = handles.end;

  const linear = linearStart(frame, points, fixed);
  const middle = [Math.max(linear[0]!, length * 0.02), Math.max(linear[1]!, length * 0.02)] as const;
  const minima: Candidate[] = [];
  const note = (found: Candidate) => {
    if (!minima.some((known) => same(known.q, found.q, length))) minima.push(found);
    minima.sort((a, b) => a.value - b.value);
  };
  note(descent(linear, 40));
  if (spans > 1) note(descent(fromOneSpan({ frame, handles, points }), 40));
  if (Math.sqrt(minima[0]!.closeness / length) < nearEnough || (held[0] && held[1])) return minima;

  const trials: Candidate[] = [];
  for (const [start, end] of leans) {
    if (!held[0]) fixed[0] = start * middle[0];
    if (!held[1]) fixed[1] = end * middle[1];
    trials.push(descent(linearStart(frame, points, fixed), trialRounds));
  }
  for (const trial of trials) {
    if (trial.value > hopeless * minima[0]!.value || minima.some((known) => same(known.q, trial.q, length))) continue;
    note(descent(trial.q, 40));
  }
  return minima;
}

/** Unknowns of the spline that draws the best hem of one span, which more spans can only bring nearer. */
function fromOneSpan({ frame, handles, points }: LocalProblem): Float64Array {
  const { spans, start, end, startTangent, endTangent } = frame;
  const ofOneSpan = (handle: number | null) => (handle === null ? null : handle * spans);
  const [best] = roughMinima({
    frame: { ...frame, spans: 1 },
    points,
    handles: { start: ofOneSpan(handles.start), end: ofOneSpan(handles.end) },
  });
  const [a, b] = best!.q;
  const one = cubic(start, add(start, scale(startTangent, a!)), add(end, scale(endTangent, -b!)), end);
  const controls = controlsFromCubic(spans, one);
  return Float64Array.from([a! / spans, b! / spans, ...controls.slice(4, 2 * (spans + 1))]);
}

function searchFor(spans: number): Search {
  return spans === 1 ? oneSpan : moreSpans;
}

function same(a: Float64Array, b: Float64Array, length: number): boolean {
  return a.every((x, i) => Math.abs(x - b[i]!) < sameMinimum * length);
}

function heldUnknowns(handles: HemProblem['handles'], spans: number): boolean[] {
  return Array.from(
    { length: 2 * spans },
    (_, i) => (i === 0 && handles.start !== null) || (i === 1 && handles.end !== null),
  );
}

function firstFeet(target: HemTarget, spans: number): Float64Array {
  return target.guess.map((fraction) => fraction * spans);
}
