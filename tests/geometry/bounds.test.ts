import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  boundsMeet,
  noBounds,
  pathBounds,
  quadraticRoots,
  segmentBounds,
  unionBounds,
} from '../../src/geometry/bounds';
import { point } from '../../src/geometry/point';
import { cubic, line, segmentPointAt } from '../../src/geometry/segment';
import { closedOutlines, wildCubics } from '../support/arbitraries';
import { bezierBounds } from '../support/bezierJs';
import { paperBounds } from '../support/paperCurves';

describe('bounds', () => {
  test('of a line and of an arch whose top is known', () => {
    expect(segmentBounds(line(point(5, 1), point(-3, 9)))).toEqual({ minX: -3, minY: 1, maxX: 5, maxY: 9 });
    // y(1/2) = 3/4 of the handles' height.
    expect(segmentBounds(cubic(point(0, 0), point(0, 80), point(100, 80), point(100, 0)))).toEqual({
      minX: 0,
      minY: 0,
      maxX: 100,
      maxY: 60,
    });
  });

  test('hold the curve and touch it on every side: 300 wild curves, 2,000 samples each', () => {
    for (const c of fc.sample(wildCubics(), { numRuns: 300, seed: 1 })) {
      const box = segmentBounds(c);
      const sampled = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
      for (let i = 0; i <= 2000; i++) {
        const { x, y } = segmentPointAt(c, i / 2000);
        sampled.minX = Math.min(sampled.minX, x);
        sampled.maxX = Math.max(sampled.maxX, x);
        sampled.minY = Math.min(sampled.minY, y);
        sampled.maxY = Math.max(sampled.maxY, y);
      }
      // Between samples a curve of this size rises by less than 2e-3 mm; above the box it must not be at all.
      expect(sampled.minX - box.minX).toBeGreaterThan(-1e-9);
      expect(sampled.minY - box.minY).toBeGreaterThan(-1e-9);
      expect(box.maxX - sampled.maxX).toBeGreaterThan(-1e-9);
      expect(box.maxY - sampled.maxY).toBeGreaterThan(-1e-9);
      expect(Math.max(sampled.minX - box.minX, sampled.minY - box.minY)).toBeLessThan(5e-3);
      expect(Math.max(box.maxX - sampled.maxX, box.maxY - sampled.maxY)).toBeLessThan(5e-3);
    }
  });

  test('agree with bezier-js on single curves and with paper.js on outlines', () => {
    for (const c of fc.sample(wildCubics(), { numRuns: 300, seed: 2 })) {
      const ours = segmentBounds(c);
      const theirs = bezierBounds(c);
      for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const) {
        expect(Math.abs(ours[side] - theirs[side])).toBeLessThan(1e-8);
      }
    }
    for (const outline of fc.sample(closedOutlines(), { numRuns: 200, seed: 3 })) {
      const ours = pathBounds(outline);
      const theirs = paperBounds(outline);
      for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const) {
        expect(Math.abs(ours[side] - theirs[side])).toBeLessThan(1e-9);
      }
    }
  });

  test('of nothing unite with anything, and meet nothing', () => {
    const box = { minX: 0, minY: 0, maxX: 2, maxY: 3 };
    expect(pathBounds([])).toEqual(noBounds);
    expect(unionBounds(noBounds, box)).toEqual(box);
    expect(boundsMeet(noBounds, box, 1)).toBe(false);
    expect(boundsMeet(box, { minX: 2.5, minY: 0, maxX: 9, maxY: 1 }, 0.4)).toBe(false);
    expect(boundsMeet(box, { minX: 2.5, minY: 0, maxX: 9, maxY: 1 }, 0.5)).toBe(true);
  });
});

test('quadratic roots keep their digits where the school formula loses them', () => {
  // x^2 - 1e8 x + 1: roots 1e8 - 1e-8 and 1e-8 (1 + 1e-16 ...).
  const [small, large] = quadraticRoots(1, -1e8, 1);
  expect(Math.abs(small! / 1e-8 - 1)).toBeLessThan(1e-15);
  expect(large).toBe(1e8);
  expect(quadraticRoots(1, -3, 2)).toEqual([1, 2]);
  expect(quadraticRoots(-1, 3, -2)).toEqual([1, 2]);
  expect(quadraticRoots(1, 2, 1)).toEqual([-1]);
  expect(quadraticRoots(1, 0, 1)).toEqual([]);
  expect(quadraticRoots(0, 2, -1)).toEqual([0.5]);
  expect(quadraticRoots(0, 0, 1)).toEqual([]);
  expect(quadraticRoots(3, 0, 0)).toEqual([0]);
});
