import { describe, expect, test } from 'vitest';
import {
  distanceAt,
  endTangent,
  pathEnd,
  pathLength,
  pathPointAt,
  pathStart,
  splitPathAt,
  startTangent,
  subPath,
} from '../../src/geometry/path';
import { distance, norm, point } from '../../src/geometry/point';
import { cubic, line, type Path, segmentPointAt } from '../../src/geometry/segment';
import { unitTangentAt } from '../../src/geometry/tangent';

const arm = cubic(point(100, 0), point(150, 0), point(200, 40), point(200, 120));
const path: Path = [line(point(0, 0), point(100, 0)), arm, line(point(200, 120), point(200, 220))];
const armLength = pathLength([arm]);

describe('places on a path', () => {
  test('length is the sum of its segments; the empty path has none', () => {
    expect(pathLength(path)).toBeCloseTo(200 + armLength, 10);
    expect(pathLength([])).toBe(0);
  });

  test('start, end and their directions', () => {
    expect(pathStart(path)).toEqual(point(0, 0));
    expect(pathEnd(path)).toEqual(point(200, 220));
    expect(startTangent(path)).toEqual(point(1, 0));
    expect(endTangent(path)).toEqual(point(0, 1));
  });

  test('the empty path has no places', () => {
    expect(() => pathStart([])).toThrow(RangeError);
    expect(() => pathEnd([])).toThrow(RangeError);
    expect(() => pathPointAt([], 1)).toThrow(RangeError);
  });

  test('directions look past segments and handles without length', () => {
    const dot = line(point(0, 0), point(0, 0));
    const noHandles = cubic(point(0, 0), point(0, 0), point(30, 40), point(30, 40));
    expect(startTangent([dot, noHandles])).toEqual(point(0.6, 0.8));
    expect(endTangent([noHandles, line(point(30, 40), point(30, 40))])).toEqual(point(0.6, 0.8));
    expect(startTangent([dot])).toEqual(point(0, 0));
    expect(endTangent([dot])).toEqual(point(0, 0));
  });

  test('a cusp inside a curve leaves along its second derivative', () => {
    const cusp = cubic(point(0, 0), point(100, 100), point(0, 100), point(100, 0));
    // B'(1/2) = 0 and B''(1/2) = (0, -600) / ... points up on screen.
    expect(unitTangentAt(cusp, 0.5)).toEqual(point(0, -1));
  });

  test('a point at a distance, its direction, segment and parameter', () => {
    const onLine = pathPointAt(path, 25);
    expect(onLine).toEqual({ point: point(25, 0), tangent: point(1, 0), segment: 0, t: 0.25 });
    const onArm = pathPointAt(path, 100 + armLength / 3);
    expect(onArm.segment).toBe(1);
    expect(distance(onArm.point, segmentPointAt(arm, onArm.t))).toBe(0);
    expect(norm(onArm.tangent)).toBeCloseTo(1, 14);
    expect(distanceAt(path, 1, onArm.t)).toBeCloseTo(100 + armLength / 3, 8);
  });

  test('a joint is the start of the segment that leaves it; beyond the ends are the ends', () => {
    expect(pathPointAt(path, 100)).toMatchObject({ segment: 1, t: 0, point: point(100, 0) });
    expect(pathPointAt(path, 100 + 5e-8)).toMatchObject({ segment: 1, t: 0 });
    expect(pathPointAt(path, 100 - 5e-8)).toMatchObject({ segment: 1, t: 0 });
    expect(pathPointAt(path, -3)).toMatchObject({ segment: 0, t: 0 });
    expect(pathPointAt(path, 1e6)).toMatchObject({ segment: 2, t: 1, point: point(200, 220) });
  });
});

describe('splitting', () => {
  test('the parts share one point and add up to the length; the curve is not redrawn', () => {
    for (const at of [10, 99, 100 + armLength / 2, 100 + armLength + 40]) {
      const [head, tail] = splitPathAt(path, at);
      expect(pathEnd(head)).toEqual(pathStart(tail));
      expect(pathLength(head)).toBeCloseTo(at, 8);
      expect(pathLength(head) + pathLength(tail)).toBeCloseTo(pathLength(path), 8);
      expect(pathStart(head)).toBe(path[0]!.start);
      expect(pathEnd(tail)).toBe(path[2]!.end);
    }
  });

  test('at a joint no sliver is made, and the untouched segments are the same objects', () => {
    const [head, tail] = splitPathAt(path, 100 + 2e-8);
    expect(head).toEqual([path[0]]);
    expect(tail[0]).toBe(path[1]);
    expect(tail).toHaveLength(2);
  });

  test('at or beyond an end one part is empty', () => {
    expect(splitPathAt(path, 0)).toEqual([[], path]);
    expect(splitPathAt(path, -5)).toEqual([[], path]);
    expect(splitPathAt(path, 1e5)).toEqual([path, []]);
    expect(splitPathAt([], 5)).toEqual([[], []]);
  });

  test('a part between two distances', () => {
    const part = subPath(path, 50, 100 + armLength + 25);
    expect(pathStart(part)).toEqual(point(50, 0));
    expect(distance(pathEnd(part), point(200, 145))).toBeLessThan(1e-8);
    expect(pathLength(part)).toBeCloseTo(75 + armLength, 8);
    expect(subPath(path, 0, 1e5)).toEqual(path);
    expect(subPath(path, 10, 10)).toEqual([]);
  });
});

test('asking for a segment that is not there is an error', () => {
  expect(() => distanceAt(path, 3, 0.5)).toThrow(RangeError);
});
