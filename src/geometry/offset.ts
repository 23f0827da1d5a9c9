import { curvatureAt, curvatureBound } from './curvature';
import { fitHandles } from './handleFit';
import { intersectPaths } from './intersect';
import { add, angleBetween, cross, distance, type Point, quarterTurn, scale, subtract } from './point';
import {
  type CubicSegment,
  cubic,
  line,
  type Path,
  type Segment,
  segmentDerivativeAt,
  segmentPointAt,
  segmentSecondDerivativeAt,
  subSegment,
} from './segment';
import { unitTangentAt } from './tangent';
import { maxHalvings, offsetAccuracy, offsetMitreLimit } from './tolerance';

/**
 * An open path moved sideways by d mm: outward (along the quarter turn of the direction of travel) for d > 0, inward
 * for d < 0. Lines move exactly; the exact normal offset of a cubic is refitted by cubics that stay within `accuracy`
 * mm of it and keep its end tangents.
 *
 * At a corner that opens, both sides run on straight until they meet, unless that is further than 6 d away: then a
 * straight line joins them. At a corner that closes, and where the path bends tighter than d so that no point at
 * distance d is left, the two sides are trimmed at their crossing, or joined straight if they do not cross. Parts of
 * the path that come near each other elsewhere are not looked at: an offset path may cross itself there.
 */
export function offsetPath(path: Path, d: number, accuracy = offsetAccuracy): Path {
  if (d === 0) return path;
  let result: Segment[] = [];
  for (const segment of path) {
    for (const moved of segment.kind === 'line'
      ? offsetLine(segment.start, segment.end, d)
      : offsetCubic(segment, d, accuracy)) {
      result = result.length === 0 ? [...moved] : joined(result, moved, d, accuracy);
    }
  }
  return result;
}

/** Offset parts of one segment: unbroken runs, with nothing where it bends tighter than d. */
type Runs = readonly (readonly Segment[])[];

function offsetLine(start: Point, end: Point, d: number): Runs {
  const length = distance(start, end);
  if (length === 0) return [];
  const shift = scale(quarterTurn(subtract(end, start)), d / length);
  return [[line(add(start, shift), add(end, shift))]];
}

function offsetCubic(segment: CubicSegment, d: number, accuracy: number): Runs {
  const runs: Segment[][] = [];
  const cuts = cuspParameters(segment, d);
  for (let i = 0; i + 1 < cuts.length; i++) {
    const t0 = cuts[i]!;
    const t1 = cuts[i + 1]!;
    if (forwardness(segment, (t0 + t1) / 2, d) > 0)
      runs.push(offsetRun(subSegment(segment, t0, t1) as CubicSegment, d, accuracy, 0));
  }
  return runs.filter((run) => run.length > 0);
}

/** Speed of the offset curve over that of the curve: negative where it runs backward. */
function forwardness(segment: CubicSegment, t: number, d: number): number {
  return 1 - d * curvatureAt(segment, t);
}

/** 0, 1 and, in between, the parameters where the offset curve has a cusp (radius of the curve equal to d). */
function cuspParameters(segment: CubicSegment, d: number): number[] {
  if (Math.abs(d) * curvatureBound(segment) < 1) return [0, 1];
  const steps = 16;
  const cuts = [0];
  let before = forwardness(segment, 0, d);
  for (let i = 1; i <= steps; i++) {
    const after = forwardness(segment, i / steps, d);
    if (before > 0 !== after > 0) {
      let low = (i - 1) / steps;
      let high = i / steps;
      while (high - low > 1e-12) {
        const middle = (low + high) / 2;
        if (forwardness(segment, middle, d) > 0 === before > 0) low = middle;
        else high = middle;
      }
      cuts.push((low + high) / 2);
    }
    before = after;
  }
  cuts.push(1);
  return cuts;
}

const interior = 9;

/** Cubics within the accuracy of the offset of a curve whose offset runs forward throughout. */
function offsetRun(segment: CubicSegment, d: number, accuracy: number, depth: number): Segment[] {
  const t0 = unitTangentAt(segment, 0);
  const t3 = unitTangentAt(segment, 1);
  const points: Point[] = [];
  const parameters: number[] = [];
  for (let i = 0; i <= interior + 1; i++) {
    const t = i / (interior + 1);
    parameters.push(t);
    points.push(offsetPoint(segment, t, d));
  }
  const first = points[0]!;
  const last = points[points.length - 1]!;
  const chord = distance(first, last);
  if (chord === 0) return [];
  // The offset's own end speeds are nearly right already.
  const a = handleGuess(segment, 0, d, chord);
  const b = handleGuess(segment, 1, d, chord);
  const { curve, parameters: feet, worst } = fitHandles(points, parameters, t0, t3, a, b, accuracy / 4);
  if ((worst <= 0.7 * accuracy && deviationBetween(segment, d, curve, feet) <= 0.9 * accuracy) || depth > maxHalvings) {
    return [curve];
  }
  if (chord <= accuracy) return [cubic(first, first, last, last)];
  return [
    ...offsetRun(subSegment(segment, 0, 0.5) as CubicSegment, d, accuracy, depth + 1),
    ...offsetRun(subSegment(segment, 0.5, 1) as CubicSegment, d, accuracy, depth + 1),
  ];
}

function handleGuess(segment: CubicSegment, t: number, d: number, chord: number): number {
  const velocity = segmentDerivativeAt(segment, t);
  const guess = (Math.hypot(velocity.x, velocity.y) * forwardness(segment, t, d)) / 3;
  return guess > 0.01 * chord && guess < 3 * chord ? guess : chord / 3;
}

/** Largest distance from the offset, half way between the fitted points, to the fitted curve, mm. */
function deviationBetween(segment: CubicSegment, d: number, curve: CubicSegment, feet: readonly number[]): number {
  let worst = 0;
  for (let i = 0; i + 1 < feet.length; i++) {
    const p = offsetPoint(segment, (i + 0.5) / (interior + 1), d);
    let t = (feet[i]! + feet[i + 1]!) / 2;
    for (let step = 0; step < 2; step++) {
      const at = segmentPointAt(curve, t);
      const v = segmentDerivativeAt(curve, t);
      const e = segmentSecondDerivativeAt(curve, t);
      const slope = v.x * v.x + v.y * v.y + (at.x - p.x) * e.x + (at.y - p.y) * e.y;
      if (!(slope > 0)) break;
      t = Math.min(1, Math.max(0, t - ((at.x - p.x) * v.x + (at.y - p.y) * v.y) / slope));
    }
    const gap = distance(segmentPointAt(curve, t), p);
    if (!(gap <= worst)) worst = gap;
  }
  return worst;
}

function offsetPoint(segment: CubicSegment, t: number, d: number): Point {
  return add(segmentPointAt(segment, t), scale(quarterTurn(unitTangentAt(segment, t)), d));
}

/** The offset so far with the next run added, their corner filled or trimmed. */
function joined(before: readonly Segment[], after: readonly Segment[], d: number, accuracy: number): Segment[] {
  const last = before[before.length - 1]!;
  const first = after[0]!;
  const gap = distance(last.end, first.start);
  if (gap === 0) return [...before, ...after];
  const arriving = unitTangentAt(last, 1);
  const leaving = unitTangentAt(first, 0);
  const bend = angleBetween(arriving, leaving);
  if (gap <= accuracy / 10 && (last.kind === 'cubic' || first.kind === 'cubic')) {
    // A joint that is smooth but for rounding: move the end of the fitted curve, within the accuracy.
    return first.kind === 'cubic'
      ? [...before, withStart(first, last.end), ...after.slice(1)]
      : [...before.slice(0, -1), withEnd(last as CubicSegment, first.start), ...after];
  }
  if (bend * d < 0) {
    const corner = add(
      last.end,
      scale(arriving, cross(subtract(first.start, last.end), leaving) / cross(arriving, leaving)),
    );
    if (Math.cos(bend / 2) * offsetMitreLimit < 1) return [...before, line(last.end, first.start), ...after];
    return [...runOn(before, corner), ...runUp(corner, after)];
  }
  const crossings = intersectPaths(before, after);
  const crossing = crossings[crossings.length - 1];
  if (crossing === undefined) return [...before, line(last.end, first.start), ...after];
  const head = subSegment(before[crossing.segmentA]!, 0, crossing.ta);
  const tail = subSegment(after[crossing.segmentB]!, crossing.tb, 1);
  return [
    ...before.slice(0, crossing.segmentA),
    head,
    tail.kind === 'line' ? line(head.end, tail.end) : withStart(tail, head.end),
    ...after.slice(crossing.segmentB + 1),
  ];
}

function withStart(c: CubicSegment, start: Point): CubicSegment {
  return cubic(start, add(c.control1, subtract(start, c.start)), c.control2, c.end);
}

function withEnd(c: CubicSegment, end: Point): CubicSegment {
  return cubic(c.start, c.control1, add(c.control2, subtract(end, c.end)), end);
}

/** A run continued straight to the corner; a line is simply longer. */
function runOn(run: readonly Segment[], corner: Point): Segment[] {
  const last = run[run.length - 1]!;
  return last.kind === 'line' ? [...run.slice(0, -1), line(last.start, corner)] : [...run, line(last.end, corner)];
}

function runUp(corner: Point, run: readonly Segment[]): Segment[] {
  const first = run[0]!;
  return first.kind === 'line' ? [line(corner, first.end), ...run.slice(1)] : [line(corner, first.start), ...run];
}
