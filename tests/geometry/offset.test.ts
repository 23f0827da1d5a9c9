import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { curvatureAt, totalTurning } from '../../src/geometry/curvature';
import { selfIntersections } from '../../src/geometry/intersect';
import { nearestOnPath } from '../../src/geometry/nearest';
import { offsetPath } from '../../src/geometry/offset';
import { endTangent, pathEnd, pathLength, pathStart, startTangent } from '../../src/geometry/path';
import { add, angleBetween, distance, mix, type Point, point, quarterTurn, scale } from '../../src/geometry/point';
import { movePath, turnAbout } from '../../src/geometry/rigidMove';
import { type CubicSegment, cubic, line, type Path, reversePath, segmentPointAt } from '../../src/geometry/segment';
import { unitTangentAt } from '../../src/geometry/tangent';
import { gentleCubics } from '../support/arbitraries';

function exactOffset(c: CubicSegment, t: number, d: number): Point {
  return add(segmentPointAt(c, t), scale(quarterTurn(unitTangentAt(c, t)), d));
}

/** Largest distance from the exact offset to the result and from the result to the exact offset, densely sampled. */
function deviations(c: CubicSegment, d: number, result: Path): { to: number; from: number } {
  let to = 0;
  for (let i = 0; i <= 400; i++) to = Math.max(to, nearestOnPath(result, exactOffset(c, i / 400, d)).distance);
  let from = 0;
  for (const segment of result) {
    for (let i = 0; i <= 60; i++) {
      const near = nearestOnPath([c], segmentPointAt(segment, i / 60));
      from = Math.max(from, Math.abs(near.distance - Math.abs(d)));
    }
  }
  return { to, from };
}

/** Greatest d that no bend of the curve swallows, on the side of positive d. */
function room(c: CubicSegment, side: 1 | -1): number {
  let most = 0;
  for (let i = 0; i <= 200; i++) most = Math.max(most, side * curvatureAt(c, i / 200));
  return 1 / Math.max(most, 1e-6);
}

const parabola = cubic(
  point(-100, 50),
  mix(point(-100, 50), point(0, -50), 2 / 3),
  mix(point(100, 50), point(0, -50), 2 / 3),
  point(100, 50),
); // y = x^2 / 200: the tightest radius is 100, at the vertex

describe('offset of one edge', () => {
  test('a line moves square to itself, to the side of the quarter turn, exactly', () => {
    expect(offsetPath([line(point(0, 0), point(30, 40))], 10)).toEqual([line(point(-8, 6), point(22, 46))]);
    expect(offsetPath([line(point(0, 0), point(100, 0))], 15)).toEqual([line(point(0, 15), point(100, 15))]);
    expect(offsetPath([line(point(0, 0), point(100, 0))], -15)).toEqual([line(point(0, -15), point(100, -15))]);
  });

  test('no offset is the same path, and nothing stays nothing', () => {
    const path: Path = [parabola];
    expect(offsetPath(path, 0)).toBe(path);
    expect(offsetPath([], 5)).toEqual([]);
    expect(offsetPath([line(point(1, 1), point(1, 1))], 5)).toEqual([]);
  });

  test.each([1, 0.1, 1e-2, 1e-3, 1e-4, 1e-6])(
    'of a parabola stays within %f mm of its formula on both sides',
    (accuracy) => {
      for (const d of [-60, -15, 15, 60]) {
        const result = offsetPath([parabola], d, accuracy);
        for (let i = 0; i <= 200; i++) {
          const x = i - 100;
          const steep = Math.sqrt(1 + (x / 100) ** 2);
          const exact = point(x - (d * (x / 100)) / steep, (x * x) / 200 + d / steep);
          expect(nearestOnPath(result, exact).distance).toBeLessThanOrEqual(accuracy);
        }
        expect(deviations(parabola, d, result).from).toBeLessThanOrEqual(accuracy);
      }
    },
  );

  test('200 ordinary curves, both sides: within the accuracy both ways, ends and end directions kept', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 200, seed: 1 })) {
      for (const side of [1, -1] as const) {
        const d = side * Math.min(20, 0.8 * room(c, side));
        const result = offsetPath([c], d, 1e-3);
        const { to, from } = deviations(c, d, result);
        expect(to).toBeLessThanOrEqual(1e-3);
        expect(from).toBeLessThanOrEqual(1e-3);
        expect(distance(pathStart(result), exactOffset(c, 0, d))).toBeLessThan(1e-9);
        expect(distance(pathEnd(result), exactOffset(c, 1, d))).toBeLessThan(1e-9);
        expect(Math.abs(angleBetween(startTangent(result), unitTangentAt(c, 0)))).toBeLessThan(1e-9);
        expect(Math.abs(angleBetween(endTangent(result), unitTangentAt(c, 1)))).toBeLessThan(1e-9);
      }
    }
  });

  test('its length is that of the edge less d times the turning, and the strip between has area d L - d^2 turning / 2', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 100, seed: 2 })) {
      const d = Math.min(15, 0.7 * room(c, 1));
      const result = offsetPath([c], d, 1e-5);
      const turning = totalTurning([c]);
      const length = pathLength([c]);
      expect(Math.abs(pathLength(result) - (length - d * turning))).toBeLessThan(1e-4);
      const strip: Path = [c, line(c.end, pathEnd(result)), ...reversePath(result), line(pathStart(result), c.start)];
      // Travel along the edge, then outward: the other way round than our outlines.
      expect(Math.abs(-enclosedArea(strip) - (d * length - (d * d * turning) / 2))).toBeLessThan(1e-4 * length);
    }
  });

  test('needs few cubics: an ordinary hem or armhole at 1e-2 mm one to four', () => {
    const hem = cubic(point(0, 500), point(85, 502), point(170, 495), point(255, 480));
    const armhole = cubic(point(250, 180), point(190, 180), point(165, 120), point(175, 20));
    expect(offsetPath([hem], 20, 1e-2)).toHaveLength(1);
    expect(offsetPath([armhole], 15, 1e-2).length).toBeLessThanOrEqual(4);
  });

  test('turned and shifted, it follows', () => {
    const armhole = cubic(point(250, 180), point(190, 180), point(165, 120), point(175, 20));
    const move = turnAbout(point(10, -600), 1.3);
    const moved = offsetPath(movePath(move, [armhole]), 15, 1e-3);
    const expected = movePath(move, offsetPath([armhole], 15, 1e-3));
    expect(moved).toHaveLength(expected.length);
    moved.forEach((segment, i) => {
      expect(distance(segment.start, expected[i]!.start)).toBeLessThan(1e-6);
      expect(distance(segment.end, expected[i]!.end)).toBeLessThan(1e-6);
    });
  });
});

describe('offset of an edge of several segments', () => {
  test('a smooth joint stays joined without an extra segment', () => {
    const arcs: Path = [
      cubic(point(0, 0), point(30, 0), point(60, 10), point(80, 30)),
      cubic(point(80, 30), point(100, 50), point(130, 60), point(160, 60)),
    ];
    const result = offsetPath(arcs, 10, 1e-3);
    for (let i = 1; i < result.length; i++) expect(result[i]!.start).toEqual(result[i - 1]!.end);
    for (const segment of result) expect(segment.kind).toBe('cubic');
  });

  test('a corner that opens is mitred: the lines are just longer', () => {
    const bent: Path = [line(point(0, 0), point(100, 0)), line(point(100, 0), point(100, -80))];
    const result = offsetPath(bent, 10);
    expect(result).toHaveLength(2);
    expect(distance(result[0]!.end, point(110, 10))).toBeLessThan(1e-12);
    expect(result[1]!.start).toEqual(result[0]!.end);
    expect(result[1]!.end).toEqual(point(110, -80));
  });

  test('a corner that closes is trimmed at the crossing', () => {
    const bent: Path = [line(point(0, 0), point(100, 0)), line(point(100, 0), point(100, 80))];
    const result = offsetPath(bent, 10);
    expect(result).toHaveLength(2);
    expect(distance(result[0]!.end, point(90, 10))).toBeLessThan(1e-12);
    expect(result[1]!.end).toEqual(point(90, 80));
  });

  test('a needle of a corner is bevelled instead of reaching far out', () => {
    const needle: Path = [line(point(0, 0), point(100, 0)), line(point(100, 0), point(0, -10))];
    const result = offsetPath(needle, 10);
    expect(result).toHaveLength(3);
    for (const segment of result) expect(distance(segment.end, point(100, 0))).toBeLessThan(110);
  });

  test('curved sides meet the mitre with their own tangents', () => {
    const bent: Path = [parabola, line(point(100, 50), point(200, 50))];
    // Travel turns back towards level, from y to x: the outer side of this corner.
    const result = offsetPath(bent, 10, 1e-4);
    for (let i = 1; i < result.length; i++) expect(result[i]!.start).toEqual(result[i - 1]!.end);
    expect(selfIntersections(result)).toEqual([]);
    for (const segment of result) {
      for (const t of [0, 0.25, 0.5, 0.75, 1]) {
        expect(nearestOnPath(bent, segmentPointAt(segment, t)).distance).toBeGreaterThan(10 - 1e-4);
      }
    }
  });
});

describe('a bend tighter than the offset', () => {
  test('loses its swallowtail: no crossing, nothing nearer than d', () => {
    // The parabola's radius is 100 at its vertex; inside it at 130 the middle is swallowed.
    const result = offsetPath([parabola], 130, 1e-3);
    expect(selfIntersections(result)).toEqual([]);
    for (const segment of result) {
      for (let i = 0; i <= 20; i++) {
        expect(nearestOnPath([parabola], segmentPointAt(segment, i / 20)).distance).toBeGreaterThan(130 - 2e-3);
      }
    }
    // By symmetry the two sides meet on the axis, where the normal from x reaches it: x^2 = d^2 - 100^2.
    const corner = result.map((segment) => segment.end).find((p) => Math.abs(p.x) < 1e-3);
    expect(corner).toBeDefined();
    const x2 = 130 * 130 - 100 * 100;
    expect(Math.abs(corner!.y - (x2 / 200 + 100))).toBeLessThan(1e-2);
  });

  test('a small rounded corner swallowed whole is trimmed like a corner', () => {
    const r = 5;
    const k = 0.5523 * r;
    const rounded: Path = [
      line(point(0, 0), point(100 - r, 0)),
      cubic(point(100 - r, 0), point(100 - r + k, 0), point(100, r - k), point(100, r)),
      line(point(100, r), point(100, 80)),
    ];
    const result = offsetPath(rounded, 10, 1e-3);
    expect(result).toHaveLength(2);
    expect(distance(result[0]!.end, point(90, 10))).toBeLessThan(1e-9);
  });
});
