import type { Point } from '../../geometry/point';
import { curveThrough, type EdgeCurve } from './edgeCurve';
import { solveNormal } from './normalEquations';
import type { Picture } from './picture';
import { brightness, light } from './tones';

/** Stations along an edge in the rough search. */
const stations = 160;

/** Dots of bow that the search strip holds without being made wider. */
const usualBow = 12;

/** Strongest steps kept at each station. */
const kept = 3;

/** Share of the stations that must show the edge. */
const leastSupport = 0.35;

/** Share of the edge at each end that is left out: the rough corners may lie beyond the sheet. */
const endsLeftOut = 0.04;

interface Step {
  /** -1 to 1 along the edge. */
  readonly t: number;
  /** Dots of profile from the rough line. */
  readonly offset: number;
  readonly strength: number;
  /** Whether it grows lighter along the profile. */
  readonly lighter: boolean;
}

/**
 * The course of the clearest nearly straight step of light or colour within `reach` dots of the line from a to b, found by
 * votes over its place, its lean and its bow (a Hough search); in its middle it may bow by `mostBow` dots more. Null where less than `leastSupport` of the edge agrees.
 */
export function searchEdge(picture: Picture, a: Point, b: Point, reach: number, mostBow: number): EdgeCurve | null {
  const alongX = Math.abs(b.x - a.x) >= Math.abs(b.y - a.y);
  const start = alongX ? a.x : a.y;
  const end = alongX ? b.x : b.y;
  const base = (t: number): number => (alongX ? a.y + (b.y - a.y) * t : a.x + (b.x - a.x) * t);
  const square = Math.abs(end - start) / Math.hypot(b.x - a.x, b.y - a.y);
  const half = Math.ceil(reach / square);
  const bowLimit = 2 * Math.round(Math.min(mostBow, 0.012 * Math.abs(end - start)) / 2);
  const found = stepsAlong(picture, alongX, start, end, base, half + Math.max(0, bowLimit - usualBow));
  const best = [true, false]
    .map((lighter) =>
      vote(
        found.filter((step) => step.lighter === lighter),
        half,
        bowLimit,
      ),
    )
    .sort((p, q) => q.votes - p.votes)[0]!;
  const agreeing = (course: Course, near: number): Step[] =>
    found.filter((step) => step.lighter === best.lighter && Math.abs(step.offset - courseAt(course, step.t)) < near);
  let course: Course = best.course;
  for (const near of [2.5, 2, 1.5]) {
    const close = agreeing(course, near);
    if (new Set(close.map(({ t }) => t)).size < leastSupport * stations) return null;
    course = fitCourse(close);
  }
  return curveThrough(alongX, start, end, (t) => base(t) + courseAt(course, 2 * t - 1));
}

/** Offset c0 + c1 t + c2 t^2 in dots of profile. */
type Course = readonly [number, number, number];

function courseAt(course: Course, t: number): number {
  return course[0] + t * (course[1] + t * course[2]);
}

function stepsAlong(
  picture: Picture,
  alongX: boolean,
  start: number,
  end: number,
  base: (t: number) => number,
  half: number,
): Step[] {
  const { data, width, height } = picture;
  const runStride = alongX ? 4 : 4 * width;
  const acrossStride = alongX ? 4 * width : 4;
  const runSize = alongX ? width : height;
  const acrossSize = alongX ? height : width;
  const length = 2 * half + 1;
  const values = new Float32Array(3 * (length + 4));
  const strengths = new Float32Array(length);
  const steps: Step[] = [];
  for (let i = 0; i < stations; i++) {
    const share = endsLeftOut + ((1 - 2 * endsLeftOut) * (i + 0.5)) / stations;
    const run = Math.floor(start + (end - start) * share);
    if (run < 0 || run >= runSize) continue;
    const line = base((run + 0.5 - start) / (end - start));
    const first = Math.round(line) - half - 2;
    for (let j = 0; j < length + 4; j++) {
      const across = Math.min(acrossSize - 1, Math.max(0, first + j));
      const at = run * runStride + across * acrossStride;
      for (let c = 0; c < 3; c++) values[3 * j + c] = light[data[at + c]!]!;
    }
    // A step is the difference of the two dots on each side; place j stands between profile dots j + 1 and j + 2.
    const step = (j: number, c: number): number =>
      (values[3 * (j + 2) + c]! + values[3 * (j + 3) + c]! - values[3 * j + c]! - values[3 * (j + 1) + c]!) / 2;
    for (let j = 0; j < length; j++) {
      const [red, green, blue] = [step(j, 0), step(j, 1), step(j, 2)];
      strengths[j] = Math.sqrt(red * red + green * green + blue * blue);
    }
    const peaks: number[] = [];
    for (let j = 1; j < length - 1; j++) {
      if (strengths[j]! > strengths[j - 1]! && strengths[j]! >= strengths[j + 1]!) peaks.push(j);
    }
    peaks.sort((p, q) => strengths[q]! - strengths[p]!);
    const strongest = peaks[0] === undefined ? 0 : strengths[peaks[0]]!;
    for (const j of peaks.slice(0, kept)) {
      if (strengths[j]! < 0.25 * strongest || strengths[j]! < 0.004) continue;
      const [l, m, r] = [strengths[j - 1]!, strengths[j]!, strengths[j + 1]!];
      const sub = (0.5 * (l - r)) / (l - 2 * m + r || 1);
      const lighter = step(j, 0) * brightness[0] + step(j, 1) * brightness[1] + step(j, 2) * brightness[2] > 0;
      steps.push({
        t: (2 * (run + 0.5 - start)) / (end - start) - 1,
        offset: first + j + 2 + sub - line,
        strength: m,
        lighter,
      });
    }
  }
  return steps;
}

function vote(
  steps: readonly Step[],
  half: number,
  bowLimit: number,
): { votes: number; course: Course; lighter: boolean } {
  const sorted = steps.map(({ strength }) => strength).sort((p, q) => p - q);
  // One bright thread must not outvote a long faint edge.
  const cap = sorted[sorted.length >> 1] ?? 1;
  const span = 4 * half + 4 * bowLimit + 5;
  const middle = span >> 1;
  let votes = -1;
  let course: Course = [0, 0, 0];
  const bins = new Float32Array(span);
  for (let bow = -bowLimit; bow <= bowLimit; bow += 2) {
    for (let lean = -half; lean <= half; lean += 2) {
      bins.fill(0);
      for (const { t, offset, strength } of steps) {
        const at = offset - lean * t - bow * (1 - t * t) + middle;
        const low = Math.floor(at);
        if (low < 0 || low + 1 >= span) continue;
        const weight = Math.min(strength, cap);
        bins[low] = bins[low]! + weight * (low + 1 - at);
        bins[low + 1] = bins[low + 1]! + weight * (at - low);
      }
      for (let k = 1; k < span - 1; k++) {
        const here = bins[k]! + 0.5 * (bins[k - 1]! + bins[k + 1]!);
        // Among equals the straighter wins.
        const count = here * (1 - 0.002 * Math.abs(bow));
        if (count > votes) {
          votes = count;
          course = [k - middle + bow, lean, -bow];
        }
      }
    }
  }
  return { votes, course, lighter: steps[0]?.lighter ?? true };
}

/** Least-squares parabola through the steps, each station with its nearest. */
function fitCourse(steps: readonly Step[]): Course {
  const s = new Float64Array(5);
  const r = new Float64Array(3);
  for (const { t, offset } of steps) {
    let power = 1;
    for (let i = 0; i < 5; i++) {
      s[i] = s[i]! + power;
      if (i < 3) r[i] = r[i]! + power * offset;
      power *= t;
    }
  }
  const solved = solveNormal(
    Float64Array.of(s[0]!, s[1]!, s[2]!, s[1]!, s[2]!, s[3]!, s[2]!, s[3]!, s[4]!),
    Float64Array.of(r[0]!, r[1]!, r[2]!),
  );
  return solved === null ? [0, 0, 0] : [solved.x[0]!, solved.x[1]!, solved.x[2]!];
}
