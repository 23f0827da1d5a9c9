import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { add, distance, mix, point, scale, subtract } from '../../src/geometry/point';
import {
  line,
  reversePath,
  reverseSegment,
  segmentDerivativeAt,
  segmentPointAt,
  segmentSecondDerivativeAt,
  splitSegment,
  subSegment,
} from '../../src/geometry/segment';
import { gentleCubics, paths, wildCubics } from '../support/arbitraries';
import { bezierDerivativeAt, bezierPart, bezierPointAt } from '../support/bezierJs';

const curves = () => fc.oneof(gentleCubics(), wildCubics());

describe('a segment', () => {
  test('evaluates as bezier-js does, derivative included, and exactly at its ends', () => {
    for (const c of fc.sample(curves(), { numRuns: 200, seed: 1 })) {
      expect(segmentPointAt(c, 0)).toBe(c.start);
      expect(segmentPointAt(c, 1)).toBe(c.end);
      for (const t of [0.07, 0.5, 0.93]) {
        expect(distance(segmentPointAt(c, t), bezierPointAt(c, t))).toBeLessThan(1e-11);
        expect(distance(segmentDerivativeAt(c, t), bezierDerivativeAt(c, t))).toBeLessThan(1e-10);
      }
    }
  });

  test('has derivatives that are the limits of differences', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 100, seed: 2 })) {
      const h = 1e-5;
      const central = scale(subtract(segmentPointAt(c, 0.4 + h), segmentPointAt(c, 0.4 - h)), 1 / (2 * h));
      expect(distance(central, segmentDerivativeAt(c, 0.4))).toBeLessThan(1e-4);
      const second = scale(subtract(segmentDerivativeAt(c, 0.4 + h), segmentDerivativeAt(c, 0.4 - h)), 1 / (2 * h));
      expect(distance(second, segmentSecondDerivativeAt(c, 0.4))).toBeLessThan(1e-4);
    }
    const edge = line(point(1, 2), point(4, 6));
    expect(segmentDerivativeAt(edge, 0.3)).toEqual(point(3, 4));
    expect(segmentSecondDerivativeAt(edge, 0.3)).toEqual(point(0, 0));
  });

  test('splits and gives parts as bezier-js does, sharing the split point', () => {
    for (const c of fc.sample(curves(), { numRuns: 200, seed: 3 })) {
      const [head, tail] = splitSegment(c, 0.3);
      expect(head.end).toEqual(tail.start);
      const part = subSegment(c, 0.2, 0.9);
      const theirs = bezierPart(c, 0.2, 0.9);
      for (const t of [0, 0.25, 0.5, 1])
        expect(distance(segmentPointAt(part, t), segmentPointAt(theirs, t))).toBeLessThan(1e-10);
      expect(subSegment(c, 0, 1)).toBe(c);
    }
    const [head, tail] = splitSegment(line(point(0, 0), point(10, 20)), 0.25);
    expect([head, tail]).toEqual([line(point(0, 0), point(2.5, 5)), line(point(2.5, 5), point(10, 20))]);
  });

  test('reversed twice is itself, and reversed once runs the same points backward', () => {
    for (const path of fc.sample(paths(), { numRuns: 100, seed: 4 })) {
      expect(reversePath(reversePath(path))).toEqual(path);
      const first = path[0]!;
      expect(distance(segmentPointAt(reverseSegment(first), 0.3), segmentPointAt(first, 0.7))).toBeLessThan(1e-10);
    }
  });
});

test('mixing two points is exact at both ends', () => {
  const a = point(0.1, 0.2);
  const b = point(1e9, -3e-7);
  expect(mix(a, b, 0)).toEqual(a);
  expect(mix(a, b, 1)).toBe(b);
  expect(add(a, subtract(point(1, 1), a))).toEqual(point(1, 1));
});
