import { describe, expect, test } from 'vitest';
import { bernsteinRoots } from '../../src/geometry/polynomial';

/** Bernstein values of the product of (t - root), by multiplying linear factors (values -root and 1 - root). */
function withRoots(roots: readonly number[]): number[] {
  let values = [1];
  for (const root of roots) {
    const degree = values.length;
    const next: number[] = [];
    for (let i = 0; i <= degree; i++) {
      const low = i < degree ? ((degree - i) / degree) * values[i]! * -root : 0;
      const high = i > 0 ? (i / degree) * values[i - 1]! * (1 - root) : 0;
      next.push(low + high);
    }
    values = next;
  }
  return values;
}

describe('roots on [0, 1]', () => {
  test.each([
    [[0.3]],
    [[0.2, 0.8]],
    [[0.1, 0.5, 0.9]],
    [[0.11, 0.37, 0.52, 0.83]],
    [[0.05, 0.3, 0.5, 0.7, 0.95]],
    [[0.4, 0.401, 0.402]],
    [[0.499, 0.501]],
  ])('%j are found', (roots) => {
    const found = bernsteinRoots(withRoots(roots));
    expect(found).toHaveLength(roots.length);
    for (const [i, root] of found.entries()) expect(Math.abs(root - roots[i]!)).toBeLessThan(1e-9);
  });

  test('outside [0, 1] none are reported', () => {
    expect(bernsteinRoots(withRoots([-0.5, 1.5, 0.25]))).toEqual([expect.closeTo(0.25, 14)]);
    expect(bernsteinRoots([1, 1, 1, 1])).toEqual([]);
    expect(bernsteinRoots([])).toEqual([]);
  });

  test('at the ends they are exactly 0 and 1', () => {
    expect(bernsteinRoots([0, 1, 2, 3])).toEqual([0]);
    expect(bernsteinRoots([-3, -2, -1, 0])).toEqual([1]);
    expect(bernsteinRoots([5e-10, 1, 2, 3], 1e-9)).toEqual([0]);
  });

  test('a touch within the stated zero is one root; just above it there is none; just below it there are two', () => {
    // (t - 1/2)^2 + c
    const touch = (c: number) => [0.25 + c, -0.25 + c, 0.25 + c];
    expect(bernsteinRoots(touch(5e-10), 1e-9)).toEqual([0.5]);
    expect(bernsteinRoots(touch(-5e-10), 1e-9)).toEqual([0.5]);
    expect(bernsteinRoots(touch(2e-9), 1e-9)).toEqual([]);
    expect(bernsteinRoots(touch(-2e-9), 1e-9)).toHaveLength(2);
  });

  test('a triple root is found to the accuracy that a triple root has', () => {
    const found = bernsteinRoots(withRoots([0.3, 0.3, 0.3]));
    expect(found.length).toBeGreaterThan(0);
    for (const root of found) expect(Math.abs(root - 0.3)).toBeLessThan(1e-4);
  });

  test('zero throughout reports both ends', () => {
    expect(bernsteinRoots([0, 0, 0, 0], 1e-9)).toEqual([0, 1]);
  });
});
