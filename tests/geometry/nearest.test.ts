import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { nearestOnPath, nearestOnSegment } from '../../src/geometry/nearest';
import { pathLength } from '../../src/geometry/path';
import { add, distance, dot, mix, point, quarterTurn, scale, subtract, unit } from '../../src/geometry/point';
import { movePoint, moveSegment, turnAbout } from '../../src/geometry/rigidMove';
import { cubic, line, segmentDerivativeAt, segmentPointAt } from '../../src/geometry/segment';
import { gentleCubics, points, wildCubics } from '../support/arbitraries';
import { paperNearestDistance } from '../support/paperCurves';

describe('nearest on a line', () => {
  const edge = line(point(0, 0), point(30, 40));

  test('the foot of the perpendicular', () => {
    expect(nearestOnSegment(edge, point(7, 24))).toMatchObject({ t: 0.468, distance: expect.closeTo(8.8, 12) });
  });

  test('the ends', () => {
    expect(nearestOnSegment(edge, point(-3, -4))).toEqual({ t: 0, point: point(0, 0), distance: 5 });
    expect(nearestOnSegment(edge, point(33, 44))).toEqual({ t: 1, point: point(30, 40), distance: 5 });
  });

  test('a line without length is its point', () => {
    expect(nearestOnSegment(line(point(1, 1), point(1, 1)), point(4, 5)).distance).toBe(5);
  });
});

describe('nearest on a curve', () => {
  test('a parabola seen from a point on its normal: the foot is known', () => {
    // y = x^2 / (2 p); from the point at x0 go out along the normal by less than the radius of curvature.
    const p = 80;
    const curve = cubic(
      point(-100, 62.5),
      mix(point(-100, 62.5), point(0, -62.5), 2 / 3),
      mix(point(100, 62.5), point(0, -62.5), 2 / 3),
      point(100, 62.5),
    );
    for (const x0 of [-90, -40, 0, 13, 66]) {
      const foot = point(x0, (x0 * x0) / (2 * p));
      const normal = unit(point(-x0 / p, 1));
      for (const away of [-200, -30, 1e-3, 40, 70]) {
        const near = nearestOnSegment(curve, add(foot, scale(normal, away)));
        expect(distance(near.point, foot)).toBeLessThan(1e-9);
        expect(Math.abs(near.distance - Math.abs(away))).toBeLessThan(1e-9);
        expect(Math.abs(near.t - (x0 + 100) / 200)).toBeLessThan(1e-12);
      }
    }
  });

  test('from the centre of curvature at the vertex (a triple root) and beyond it (two feet)', () => {
    const p = 80;
    const curve = cubic(
      point(-100, 62.5),
      mix(point(-100, 62.5), point(0, -62.5), 2 / 3),
      mix(point(100, 62.5), point(0, -62.5), 2 / 3),
      point(100, 62.5),
    );
    expect(Math.abs(nearestOnSegment(curve, point(0, p)).distance - p)).toBeLessThan(1e-9);
    // From (0, c) with c > p the distance to the parabola is sqrt(2 p c - p^2).
    for (const c of [80.001, 90, 100]) {
      expect(Math.abs(nearestOnSegment(curve, point(0, c)).distance - Math.sqrt(2 * p * c - p * p))).toBeLessThan(1e-9);
    }
  });

  test('never further than any of 4,000 samples, and the gap is square to the curve or at an end', () => {
    const cases = fc.sample(fc.tuple(wildCubics(), points()), { numRuns: 150, seed: 3 });
    for (const [curve, p] of cases) {
      const near = nearestOnSegment(curve, p);
      let sampled = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= 4000; i++) sampled = Math.min(sampled, distance(segmentPointAt(curve, i / 4000), p));
      expect(near.distance).toBeLessThanOrEqual(sampled + 1e-9);
      expect(distance(segmentPointAt(curve, near.t), near.point)).toBe(0);
      expect(distance(near.point, p)).toBeCloseTo(near.distance, 12);
      // Square in the sense of (B - p) . B' = 0; the product, because near a cusp the direction itself is not defined.
      if (near.t > 0 && near.t < 1) {
        expect(Math.abs(dot(segmentDerivativeAt(curve, near.t), subtract(near.point, p)))).toBeLessThan(1e-6);
      }
    }
  });

  test('600 points at ordinary curves: never further than paper.js says, and within 1e-7 mm of it', () => {
    for (const [curve, p] of fc.sample(fc.tuple(gentleCubics(), points()), { numRuns: 600, seed: 4 })) {
      const ours = nearestOnSegment(curve, p).distance;
      const theirs = paperNearestDistance(curve, p);
      expect(ours).toBeLessThanOrEqual(theirs + 1e-9);
      expect(theirs - ours).toBeLessThan(1e-7);
    }
  });

  test('turned and shifted, the answer follows', () => {
    const curve = cubic(point(250, 180), point(190, 180), point(165, 120), point(175, 20));
    const p = point(230, 90);
    const near = nearestOnSegment(curve, p);
    for (const angle of [0.4, 2, -3]) {
      const move = turnAbout(point(-50, 600), angle);
      const moved = nearestOnSegment(moveSegment(move, curve), movePoint(move, p));
      expect(Math.abs(moved.t - near.t)).toBeLessThan(1e-12);
      expect(distance(moved.point, movePoint(move, near.point))).toBeLessThan(1e-9);
    }
  });
});

describe('nearest on a path', () => {
  const path = [
    line(point(0, 0), point(100, 0)),
    cubic(point(100, 0), point(150, 0), point(200, 40), point(200, 120)),
    line(point(200, 120), point(200, 220)),
  ];

  test('says which segment, and how far along', () => {
    const near = nearestOnPath(path, point(210, 150));
    expect(near).toMatchObject({ segment: 2, t: 0.3, distance: 10, point: point(200, 150) });
    expect(near.along).toBeCloseTo(pathLength(path) - 70, 8);
  });

  test('equals the best of its segments', () => {
    for (const p of fc.sample(points(), { numRuns: 200, seed: 5 })) {
      const best = Math.min(...path.map((segment) => nearestOnSegment(segment, p).distance));
      expect(nearestOnPath(path, p).distance).toBe(best);
    }
  });

  test('the empty path has no nearest place', () => {
    expect(() => nearestOnPath([], point(0, 0))).toThrow(RangeError);
  });
});

test('a point on the curve is at distance 0 to rounding, wherever it is', () => {
  const curve = cubic(point(0, 0), point(300, 20), point(-120, 240), point(180, 260));
  for (let i = 0; i <= 50; i++) {
    const near = nearestOnSegment(curve, segmentPointAt(curve, i / 50));
    expect(near.distance).toBeLessThan(1e-11);
  }
  const normal = unit(quarterTurn(segmentDerivativeAt(curve, 0.37)));
  for (const away of [1e-9, 1e-6, 1e-3, 1]) {
    const near = nearestOnSegment(curve, add(segmentPointAt(curve, 0.37), scale(normal, away)));
    expect(Math.abs(near.distance - away)).toBeLessThan(1e-11);
  }
});
