import { curvatureBound } from '../../geometry/curvature';
import { cross, dot, norm, type Point, scale, subtract } from '../../geometry/point';
import {
  type CubicSegment,
  cubic,
  line,
  type Path,
  type Segment,
  segmentDerivativeAt,
  segmentPointAt,
  segmentSecondDerivativeAt,
} from '../../geometry/segment';
import { unitTangentAt } from '../../geometry/tangent';
import { allowanceAccuracy } from '../../geometry/tolerance';
import type { PathPlace } from './trim';

/** Halvings of one cubic at most: a 4096th of it is far below any allowance. */
const deepest = 12;

/** A run moved outward. */
export interface OffsetRun {
  /** The exact offset followed by lines and cubics, without what runs backwards at its ends. */
  readonly path: Path;
  /** The exact offset of the run's two ends; the path falls short of them where it runs backwards there. */
  readonly start: Point;
  readonly end: Point;
  /** The run bends inward more tightly than the width at its start or end: the offset runs backwards there. */
  readonly foldsAtStart: boolean;
  readonly foldsAtEnd: boolean;
  /** It does so elsewhere, or everywhere: then the path crosses itself. */
  readonly foldsOver: boolean;
}

/**
 * A smooth run moved outward by `width` mm: lines move exactly, cubics are followed by cubics that stay within
 * `allowanceAccuracy` mm of the exact normal offset and share its end directions.
 *
 * Written for the live path, where it runs on every pointer move: there is no fitting. Each part takes the exact
 * derivative of the normal offset, p' (1 - width * curvature), at its two ends, and is lengthened or shortened along
 * those directions to pass through the exact offset of its middle.
 */
export function offsetRun(run: Path, width: number): OffsetRun {
  const start = offsetPoint(run[0]!, 0, width);
  const end = offsetPoint(run[run.length - 1]!, 1, width);
  if (width === 0) return { path: run, start, end, foldsAtStart: false, foldsAtEnd: false, foldsOver: false };
  const { from, to, foldsOver } = forwardPart(run, width);
  const moved: Segment[] = [];
  let inverted = foldsOver;
  for (let i = from.segment; i <= to.segment; i++) {
    const segment = run[i]!;
    const t0 = i === from.segment ? from.t : 0;
    const t1 = i === to.segment ? to.t : 1;
    if (segment.kind === 'line') {
      moved.push(line(offsetPoint(segment, 0, width), offsetPoint(segment, 1, width)));
    } else if (t1 > t0) {
      const turnsBack = followOffset(
        segment,
        width,
        rung(segment, t0, width),
        rung(segment, t1, width),
        deepest,
        moved,
      );
      inverted ||= turnsBack;
    }
  }
  return {
    path: moved,
    start,
    end,
    foldsAtStart: from.segment > 0 || from.t > 0,
    foldsAtEnd: to.segment < run.length - 1 || to.t < 1,
    foldsOver: inverted,
  };
}

/** Places along each cubic where the direction of the offset is looked at. */
const looks = 16;

/** The part of a run whose offset runs forward, when only its ends do not; else the whole, marked as folding over. */
function forwardPart(run: Path, width: number): { from: PathPlace; to: PathPlace; foldsOver: boolean } {
  const whole = { from: { segment: 0, t: 0 }, to: { segment: run.length - 1, t: 1 } };
  // Nearly every run bends too gently to fold anywhere, which a bound on its curvature shows at once.
  if (run.every((segment) => segment.kind === 'line' || width * curvatureBound(segment) <= 1)) {
    return { ...whole, foldsOver: false };
  }
  const places: { segment: number; t: number; backwards: boolean }[] = [];
  run.forEach((segment, i) => {
    const count = segment.kind === 'line' ? 1 : looks;
    for (let k = 0; k <= count; k++)
      places.push({ segment: i, t: k / count, backwards: bendsBack(segment, k / count, width) });
  });
  if (!places.some((p) => p.backwards)) return { ...whole, foldsOver: false };
  const first = places.findIndex((p) => !p.backwards);
  const last = places.findLastIndex((p) => !p.backwards);
  if (first < 0 || places.slice(first, last + 1).some((p) => p.backwards)) return { ...whole, foldsOver: true };
  const from = first === 0 ? whole.from : turningPoint(run, places[first - 1]!, places[first]!, width);
  const to = last === places.length - 1 ? whole.to : turningPoint(run, places[last + 1]!, places[last]!, width);
  return { from, to, foldsOver: false };
}

/** Where the offset stops running backwards, found by halving between a place where it does and one where it does not. */
function turningPoint(run: Path, backwards: PathPlace, forward: PathPlace, width: number): PathPlace {
  if (backwards.segment !== forward.segment) return forward;
  let bad = backwards.t;
  let good = forward.t;
  for (let i = 0; i < 40; i++) {
    const t = (bad + good) / 2;
    if (bendsBack(run[forward.segment]!, t, width)) bad = t;
    else good = t;
  }
  return { segment: forward.segment, t: good };
}

function bendsBack(segment: Segment, t: number, width: number): boolean {
  if (segment.kind === 'line') return false;
  const first = segmentDerivativeAt(segment, t);
  const speed = norm(first);
  return width * cross(first, segmentSecondDerivativeAt(segment, t)) > speed * speed * speed;
}

function offsetPoint(segment: Segment, t: number, width: number): Point {
  return outward(segmentPointAt(segment, t), scale(unitTangentAt(segment, t), width));
}

/** One place of the exact offset: parameter, point, unit direction of the seamline, and the offset's derivative. */
interface Rung {
  readonly t: number;
  readonly point: Point;
  readonly direction: Point;
  readonly derivative: Point;
  /** The offset runs against the seamline here. */
  readonly backwards: boolean;
}

function rung(segment: CubicSegment, t: number, width: number): Rung {
  const direction = unitTangentAt(segment, t);
  const first = segmentDerivativeAt(segment, t);
  const speed2 = dot(first, first);
  const bend = speed2 === 0 ? 0 : cross(first, segmentSecondDerivativeAt(segment, t)) / (speed2 * Math.sqrt(speed2));
  return {
    t,
    point: outward(segmentPointAt(segment, t), scale(direction, width)),
    direction,
    derivative: scale(first, 1 - width * bend),
    backwards: width * bend > 1,
  };
}

/** Adds the offset of one part of a cubic; answers whether it runs backwards anywhere it was looked at. */
function followOffset(
  segment: CubicSegment,
  width: number,
  from: Rung,
  to: Rung,
  depth: number,
  into: Segment[],
): boolean {
  const middle = rung(segment, (from.t + to.t) / 2, width);
  const part = between(from, to, middle.point);
  if (depth === 0 || follows(segment, width, part, from.t, to.t)) {
    into.push(part);
    return from.backwards || middle.backwards || to.backwards;
  }
  const first = followOffset(segment, width, from, middle, depth - 1, into);
  const second = followOffset(segment, width, middle, to, depth - 1, into);
  return first || second;
}

/** The cubic with the offset's end directions that passes through `middle` at half its parameter, where there is one. */
function between(from: Rung, to: Rung, middle: Point): CubicSegment {
  const third = (to.t - from.t) / 3;
  let a = scale(from.derivative, third);
  let b = scale(to.derivative, third);
  const sine = cross(from.direction, to.direction);
  if (Math.abs(sine) > 1e-3) {
    const want = scale(subtract(scale(subtract(middle, from.point), 1), subtract(to.point, middle)), 4 / 3);
    const lengthA = cross(want, to.direction) / sine;
    const lengthB = cross(want, from.direction) / sine;
    const near = (length: number, guess: Point, direction: Point) => {
      const g = dot(guess, direction);
      return length * g > 0 && Math.abs(length / g - 1) < 0.3;
    };
    if (near(lengthA, a, from.direction) && near(lengthB, b, to.direction)) {
      a = scale(from.direction, lengthA);
      b = scale(to.direction, lengthB);
    }
  }
  return cubic(
    from.point,
    { x: from.point.x + a.x, y: from.point.y + a.y },
    { x: to.point.x - b.x, y: to.point.y - b.y },
    to.point,
  );
}

/** Compares at five places with the exact offset, across the direction of travel (sliding along it does no harm). */
function follows(segment: CubicSegment, width: number, part: CubicSegment, t0: number, t1: number): boolean {
  for (const s of [1 / 6, 1 / 3, 1 / 2, 2 / 3, 5 / 6]) {
    const t = t0 + s * (t1 - t0);
    const direction = unitTangentAt(segment, t);
    const exact = outward(segmentPointAt(segment, t), scale(direction, width));
    const off = subtract(segmentPointAt(part, s), exact);
    if (Math.abs(cross(direction, off)) > allowanceAccuracy) return false;
    // Sliding far along would hide a deviation where the curve bends.
    if (Math.abs(dot(direction, off)) > 100 * allowanceAccuracy) return false;
  }
  return true;
}

function outward(p: Point, n: Point): Point {
  return { x: p.x - n.y, y: p.y + n.x };
}
