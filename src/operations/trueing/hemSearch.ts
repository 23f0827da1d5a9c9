import { add, scale } from '../../geometry/point';
import { cubic } from '../../geometry/segment';
import { pencilLine } from '../../geometry/tolerance';
import { descend } from './hemDescent';
import { hemKernel } from './hemKernel';
import { controlsFromCubic } from './hemSpline';
import { linearStart } from './hemStart';
import type { HemTarget } from './hemTarget';
import type { HemFrame } from './hemWorkspace';

/** Handle lengths set by the maker, mm; null lets the fit choose. */
export interface SetHandles {
  readonly start: number | null;
  readonly end: number | null;
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

/** A minimum of the functional on few points. */
export interface Candidate {
  readonly q: Float64Array;
  readonly value: number;
  readonly closeness: number;
}

/** A hem problem in its own axes, with the few points. */
export interface LocalProblem {
  readonly frame: HemFrame;
  readonly handles: SetHandles;
  readonly points: HemTarget;
}

/** Distinct minima of the functional on few points that may be the best on the exact sums, best first. */
export function promisingMinima(problem: LocalProblem): Candidate[] {
  const minima = roughMinima(problem);
  const { rivalFactor } = searchFor(problem.frame.spans);
  return minima.filter(({ value }) => value <= rivalFactor * minima[0]!.value);
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

export function heldUnknowns(handles: SetHandles, spans: number): boolean[] {
  return Array.from(
    { length: 2 * spans },
    (_, i) => (i === 0 && handles.start !== null) || (i === 1 && handles.end !== null),
  );
}

export function firstFeet(target: HemTarget, spans: number): Float64Array {
  return target.guess.map((fraction) => fraction * spans);
}
