import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitCubic } from '../../src/geometry/fit';
import { flattenPath } from '../../src/geometry/flatten';
import { nearestOnPath } from '../../src/geometry/nearest';
import { endTangent, pathEnd, pathStart, startTangent } from '../../src/geometry/path';
import { add, angleBetween, distance, norm, type Point, point, scale, subtract } from '../../src/geometry/point';
import { movePath, movePoint, turnAbout } from '../../src/geometry/rigidMove';
import { type CubicSegment, line, type Path, segmentPointAt } from '../../src/geometry/segment';
import { unitTangentAt } from '../../src/geometry/tangent';
import { gentleCubics } from '../support/arbitraries';

function along(c: CubicSegment, count: number): Point[] {
  return Array.from({ length: count + 1 }, (_, i) => segmentPointAt(c, i / count));
}

function worstOf(points: readonly Point[], fitted: Path): number {
  return Math.max(...points.map((p) => nearestOnPath(fitted, p).distance));
}

/** The other way round: from the fitted curve, sampled finely, to the chain of input points. */
function worstBack(fitted: Path, points: readonly Point[]): number {
  const chain = points.slice(1).map((p, i) => line(points[i]!, p));
  const samples = fitted.flatMap((segment) =>
    Array.from({ length: 60 }, (_, i) => segmentPointAt(segment, (i + 0.5) / 60)),
  );
  return Math.max(...samples.map((p) => nearestOnPath(chain, p).distance));
}

function expectSmooth(fitted: Path): void {
  for (let i = 1; i < fitted.length; i++) {
    expect(fitted[i]!.start).toBe(fitted[i - 1]!.end);
    expect(Math.abs(angleBetween(unitTangentAt(fitted[i - 1]!, 1), unitTangentAt(fitted[i]!, 0)))).toBeLessThan(1e-9);
  }
}

/** Archimedean spiral r = 40 + 20 a, one and a half turns: more than one cubic can follow. */
const spiral = Array.from({ length: 400 }, (_, i) => {
  const a = (i / 399) * 3 * Math.PI;
  const r = 40 + 20 * a;
  return point(r * Math.cos(a), r * Math.sin(a));
});
const spiralStart = point(20, 40);
const spiralEnd = (() => {
  const a = 3 * Math.PI;
  const r = 40 + 20 * a;
  return point(20 * Math.cos(a) - r * Math.sin(a), 20 * Math.sin(a) + r * Math.cos(a));
})();

describe('fitting', () => {
  test('points of a cubic with its own tangents give that cubic back, to 1e-6 mm, as one segment', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 100, seed: 1 })) {
      const fitted = fitCubic(along(c, 40), unitTangentAt(c, 0), unitTangentAt(c, 1), 1e-6);
      expect(fitted).toHaveLength(1);
      for (const t of [0.1, 0.35, 0.5, 0.8]) {
        expect(nearestOnPath(fitted, segmentPointAt(c, t)).distance).toBeLessThan(1e-6);
      }
    }
  });

  test('a quarter circle is one cubic within its known best error, not below it', () => {
    // With ends and tangents on the circle the best handles leave 1.96e-4 r; the usual 0.5523 leaves 2.73e-4 r
    // (T. Goldapp, Approximation of circular arcs by cubic polynomials, 1991).
    const r = 100;
    const arc = Array.from({ length: 91 }, (_, i) => {
      const a = (i * Math.PI) / 180;
      return point(r * Math.cos(a), r * Math.sin(a));
    });
    const loose = fitCubic(arc, point(0, 1), point(-1, 0), 2.74e-4 * r);
    expect(loose).toHaveLength(1);
    expect(worstOf(arc, loose)).toBeGreaterThan(1.5e-4 * r);
    expect(fitCubic(arc, point(0, 1), point(-1, 0), 1.4e-4 * r).length).toBeGreaterThan(1);
  });

  test.each([5, 1, 0.1, 1e-2, 1e-3])(
    'a spiral stays within %f mm, both ways, without corners, with its tangents',
    (allowed) => {
      const fitted = fitCubic(spiral, spiralStart, spiralEnd, allowed);
      expect(worstOf(spiral, fitted)).toBeLessThanOrEqual(allowed);
      // The chords between input points sag by up to 0.05 mm from any smooth curve through them.
      expect(worstBack(fitted, spiral)).toBeLessThanOrEqual(allowed + 0.1);
      expectSmooth(fitted);
      expect(pathStart(fitted)).toBe(spiral[0]);
      expect(pathEnd(fitted)).toBe(spiral[399]);
      expect(Math.abs(angleBetween(startTangent(fitted), spiralStart))).toBeLessThan(1e-9);
      expect(Math.abs(angleBetween(endTangent(fitted), spiralEnd))).toBeLessThan(1e-9);
    },
  );

  test('the number of cubics grows slowly as the allowance shrinks', () => {
    // One cubic errs with the sixth power of its reach: 10,000 times closer needs 4.6 times as many, and even halving
    // wastes up to half.
    const counts = [1, 1e-2, 1e-4].map((allowed) => fitCubic(spiral, spiralStart, spiralEnd, allowed).length);
    expect(counts[0]).toBeLessThanOrEqual(8);
    expect(counts[2]! / counts[0]!).toBeLessThanOrEqual(2 * 4.6);
  });

  test('a corner in the points is followed within the allowance', () => {
    const corner = [
      ...Array.from({ length: 51 }, (_, i) => point(i * 2, 0)),
      ...Array.from({ length: 50 }, (_, i) => point(100, 2 * (i + 1))),
    ];
    const fitted = fitCubic(corner, point(1, 0), point(0, 1), 0.2);
    expect(worstOf(corner, fitted)).toBeLessThanOrEqual(0.2);
    expect(worstBack(fitted, corner)).toBeLessThanOrEqual(0.2 + 0.5);
  });

  test.each([1.5, 2, 3, -2])(
    'end tangents %f radians off the points make no loops: the curve keeps near them throughout',
    (off) => {
      const level = Array.from({ length: 21 }, (_, i) => point(5 * i, 0));
      const tangent = point(Math.cos(off), Math.sin(off));
      const fitted = fitCubic(level, tangent, tangent, 0.5);
      expect(worstOf(level, fitted)).toBeLessThanOrEqual(0.5);
      expect(worstBack(fitted, level)).toBeLessThanOrEqual(0.5 + 5 / 4);
    },
  );

  test('a line that doubles back is followed with finite numbers', () => {
    const back = [0, 20, 40, 60, 80, 100, 80, 60, 40, 20, 10].map((x) => point(x, 0.3 * x));
    const fitted = fitCubic(back, point(10, 3), point(-10, -3), 0.1);
    expect(worstOf(back, fitted)).toBeLessThanOrEqual(0.1);
    for (const { control1, control2 } of fitted) {
      expect(Number.isFinite(control1.x + control1.y + control2.x + control2.y)).toBe(true);
    }
  });

  test('scattered points of a traced line are smoothed: few cubics, within the allowance', () => {
    const c = fc.sample(gentleCubics(), { numRuns: 1, seed: 8 })[0]!;
    // A fixed scatter of up to 0.1 mm square to nothing in particular.
    const traced = along(c, 300).map((p, i) =>
      i === 0 || i === 300 ? p : add(p, point(0.07 * Math.sin(i * 12.9898), 0.07 * Math.sin(i * 78.233))),
    );
    const fitted = fitCubic(traced, unitTangentAt(c, 0), unitTangentAt(c, 1), 0.15);
    expect(worstOf(traced, fitted)).toBeLessThanOrEqual(0.15);
    expect(fitted.length).toBeLessThanOrEqual(2);
    for (const t of [0.2, 0.5, 0.8]) expect(nearestOnPath(fitted, segmentPointAt(c, t)).distance).toBeLessThan(0.1);
  });

  test('few points: none, one, two, three, repeated', () => {
    const right = point(1, 0);
    expect(fitCubic([], right, right, 1)).toEqual([]);
    expect(fitCubic([point(3, 3)], right, right, 1)).toEqual([]);
    expect(fitCubic([point(3, 3), point(3, 3)], right, right, 1)).toEqual([]);
    const two = fitCubic([point(0, 0), point(30, 0)], point(0, 1), point(0, -1), 1);
    expect(two).toEqual([
      { kind: 'cubic', start: point(0, 0), control1: point(0, 10), control2: point(30, 10), end: point(30, 0) },
    ]);
    const three = fitCubic([point(0, 0), point(0, 0), point(50, 12), point(100, 0)], point(3, 1), point(3, -1), 0.01);
    expect(nearestOnPath(three, point(50, 12)).distance).toBeLessThan(0.01);
  });

  test('tangents of any length, in the direction of travel', () => {
    const points = along(fc.sample(gentleCubics(), { numRuns: 1, seed: 9 })[0]!, 20);
    const t0 = subtract(points[1]!, points[0]!);
    const t3 = subtract(points[20]!, points[19]!);
    const a = fitCubic(points, t0, t3, 0.5);
    const b = fitCubic(points, scale(t0, 100), scale(t3, 0.01), 0.5);
    a.forEach((segment, i) => {
      expect(distance(segment.control1, b[i]!.control1)).toBeLessThan(1e-9);
      expect(distance(segment.control2, b[i]!.control2)).toBeLessThan(1e-9);
    });
    expect(norm(startTangent(a))).toBeCloseTo(1, 14);
  });

  test('turned and shifted points give the turned and shifted curve', () => {
    const move = turnAbout(point(-300, 120), 2.1);
    const zero = movePoint(move, point(0, 0));
    const turned = (v: Point) => subtract(movePoint(move, v), zero);
    const plain = movePath(move, fitCubic(spiral, spiralStart, spiralEnd, 0.1));
    const moved = fitCubic(
      spiral.map((p) => movePoint(move, p)),
      turned(spiralStart),
      turned(spiralEnd),
      0.1,
    );
    expect(moved).toHaveLength(plain.length);
    for (const p of flattenPath(plain, 0.5)) expect(nearestOnPath(moved, p).distance).toBeLessThan(1e-6);
  });
});
