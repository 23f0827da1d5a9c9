import { fitHandles, type HandleFit } from './handleFit';
import { add, distance, dot, type Point, scale, subtract, unit } from './point';
import { type CubicSegment, cubic, segmentPointAt } from './segment';

/**
 * Cubics through the first and last point, near all the others: no input point lies further than `maxDeviation` mm
 * from the result. The other way round, between two neighbouring input points the result stays within `maxDeviation`
 * plus a quarter of their distance of the straight line between them, so on dense input it holds both ways.
 *
 * The curve leaves along `startTangent` and arrives along `endTangent`, both pointing in the direction of travel, of
 * any length. Where one cubic is not enough the points are split at the worst one and the parts join without a
 * corner, recursively (after P. J. Schneider, An algorithm for automatically fitting digitized curves, Graphics Gems,
 * 1990). Fewer than two distinct points give no curve.
 */
export function fitCubic(
  points: readonly Point[],
  startTangent: Point,
  endTangent: Point,
  maxDeviation: number,
): CubicSegment[] {
  const distinct = points.filter((p, i) => i === 0 || distance(p, points[i - 1]!) > 0);
  if (distinct.length < 2) return [];
  return fitPart(distinct, unit(startTangent), unit(endTangent), maxDeviation);
}

function fitPart(points: readonly Point[], t0: Point, t3: Point, maxDeviation: number): CubicSegment[] {
  const first = points[0]!;
  const last = points[points.length - 1]!;
  const along = sumsOfChords(points);
  if (points.length === 2) {
    const handle = distance(first, last) / 3;
    return [cubic(first, add(first, scale(t0, handle)), subtract(last, scale(t3, handle)), last)];
  }
  const whole = along[along.length - 1]!;
  const guesses = along.map((s) => s / whole);
  const fit = bestHandles(points, guesses, t0, t3, maxDeviation);
  if (fit.worst <= maxDeviation && !strays(points, fit.parameters, fit.curve, maxDeviation)) return [fit.curve];
  const at = fit.worst <= maxDeviation ? Math.floor(points.length / 2) : fit.worstIndex;
  const through = tangentThrough(points, along, at, 8 * maxDeviation);
  return [
    ...fitPart(points.slice(0, at + 1), t0, through, maxDeviation),
    ...fitPart(points.slice(at), through, t3, maxDeviation),
  ];
}

/**
 * The fit has several minima along a flat valley (one handle longer, the other shorter), so when the first is not
 * good enough, but near, it is tried from both sides along the valley as well.
 */
function bestHandles(
  points: readonly Point[],
  guesses: readonly number[],
  t0: Point,
  t3: Point,
  maxDeviation: number,
): HandleFit {
  const [a, b] = firstHandles(points, guesses, t0, t3);
  let best = fitHandles(points, guesses, t0, t3, a, b);
  if (best.worst > 0.002 * distance(points[0]!, points[points.length - 1]!)) return best;
  const tryFrom = (startA: number, startB: number) => {
    if (best.worst <= maxDeviation) return;
    const fit = fitHandles(points, guesses, t0, t3, startA, startB);
    if (fit.worst < best.worst) best = fit;
  };
  for (const lean of [1.3, 0.77, 1.7, 0.59]) tryFrom(a * lean, b / lean);
  const { start, control1, control2, end } = best.curve;
  for (const lean of [1.1, 0.9]) tryFrom(distance(start, control1) * lean, distance(control2, end) / lean);
  return best;
}

function sumsOfChords(points: readonly Point[]): number[] {
  const sums = [0];
  for (let i = 1; i < points.length; i++) sums.push(sums[i - 1]! + distance(points[i]!, points[i - 1]!));
  return sums;
}

/** Handle lengths by linear least squares at fixed parameters; a third of the length where that points backward. */
function firstHandles(points: readonly Point[], parameters: readonly number[], t0: Point, t3: Point): [number, number] {
  const first = points[0]!;
  const last = points[points.length - 1]!;
  let c00 = 0;
  let c11 = 0;
  let c01 = 0;
  let x0 = 0;
  let x1 = 0;
  points.forEach((p, i) => {
    const t = parameters[i]!;
    const u = 1 - t;
    const b1 = 3 * u * u * t;
    const b2 = 3 * u * t * t;
    const head = u * u * u + b1;
    const tail = b2 + t * t * t;
    const rest = { x: p.x - head * first.x - tail * last.x, y: p.y - head * first.y - tail * last.y };
    c00 += b1 * b1;
    c11 += b2 * b2;
    c01 -= b1 * b2;
    x0 += b1 * dot(rest, t0);
    x1 -= b2 * dot(rest, t3);
  });
  c01 *= dot(t0, t3);
  const determinant = c00 * c11 - c01 * c01;
  const a = (x0 * c11 - x1 * c01) / determinant;
  const b = (c00 * x1 - c01 * x0) / determinant;
  const third = distance(first, last) / 3;
  return a > 0.01 * third && b > 0.01 * third ? [a, b] : [third, third];
}

/** Whether the curve takes the points out of order (by more than their scatter) or wanders off between neighbours. */
function strays(
  points: readonly Point[],
  parameters: readonly number[],
  curve: CubicSegment,
  allowed: number,
): boolean {
  for (let i = 1; i < points.length; i++) {
    const t0 = parameters[i - 1]!;
    const t1 = parameters[i]!;
    if (t1 < t0) {
      if (distance(segmentPointAt(curve, t0), segmentPointAt(curve, t1)) > 2 * allowed) return true;
      continue;
    }
    const from = points[i - 1]!;
    const chord = subtract(points[i]!, from);
    const length = Math.hypot(chord.x, chord.y);
    for (const part of [0.25, 0.5, 0.75]) {
      const off = subtract(segmentPointAt(curve, t0 + part * (t1 - t0)), from);
      const s = Math.min(1, Math.max(0, dot(off, chord) / (length * length)));
      if (Math.hypot(off.x - s * chord.x, off.y - s * chord.y) > allowed + length / 4) return true;
    }
  }
  return false;
}

/**
 * Direction of travel at an inner point: that of the circle through it and a point before and after it. These are
 * taken at least `window` mm away where there are such, so that scatter in the points does not turn the direction.
 */
function tangentThrough(points: readonly Point[], along: readonly number[], index: number, window: number): Point {
  const at = points[index]!;
  let before = index - 1;
  while (before > 0 && along[index]! - along[before]! < window) before--;
  let after = index + 1;
  while (after < points.length - 1 && along[after]! - along[index]! < window) after++;
  const u = subtract(at, points[before]!);
  const v = subtract(points[after]!, at);
  const blended = add(scale(u, 1 / dot(u, u)), scale(v, 1 / dot(v, v)));
  if (Number.isFinite(blended.x + blended.y) && (blended.x !== 0 || blended.y !== 0)) return unit(blended);
  // A path that turns straight back has no direction there, or one over a chord of no length: go on to the next point.
  return unit(subtract(points[index + 1]!, at));
}
