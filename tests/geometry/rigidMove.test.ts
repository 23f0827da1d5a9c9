import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  angleBetween,
  cross,
  distance,
  dot,
  heading,
  norm,
  point,
  quarterTurn,
  turn,
  unit,
} from '../../src/geometry/point';
import {
  compose,
  invert,
  movePath,
  movePoint,
  moveVector,
  shiftBy,
  stayPut,
  turnAbout,
} from '../../src/geometry/rigidMove';
import { paths, points, rigidMoves } from '../support/arbitraries';

describe('points', () => {
  test('the quarter turn goes from x towards y, as angles and cross products do', () => {
    expect(quarterTurn(point(1, 0))).toEqual(point(-0, 1));
    expect(turn(point(1, 0), Math.PI / 2).y).toBe(1);
    expect(heading(point(0, 2))).toBe(Math.PI / 2);
    expect(angleBetween(point(1, 0), point(0, 5))).toBe(Math.PI / 2);
    expect(angleBetween(point(0, 5), point(1, 0))).toBe(-Math.PI / 2);
    expect(cross(point(1, 0), point(0, 1))).toBe(1);
    expect(dot(point(3, 4), point(-4, 3))).toBe(0);
  });

  test('a quarter turn of travel along our outlines points outward', () => {
    // Along the hem from left to right, outward is down the screen.
    expect(quarterTurn(point(10, 0)).y).toBeGreaterThan(0);
  });

  test('unit vectors have length 1, and nothing stays nothing', () => {
    expect(norm(unit(point(3, -4)))).toBe(1);
    expect(unit(point(0, 0))).toEqual(point(0, 0));
  });
});

describe('rigid moves', () => {
  test('turning about a point leaves it where it is, to the last digit for small turns', () => {
    const centre = point(873.2, -411.7);
    for (const angle of [1e-12, 1e-6, 0.1, 2]) {
      expect(distance(movePoint(turnAbout(centre, angle), centre), centre)).toBeLessThan(5e-13);
    }
    // A turn of 1e-9 about a hinge 500 mm away moves by 5e-7 mm: the first nine digits of that are right.
    const moved = movePoint(turnAbout(point(0, 0), 1e-9), point(500, 0));
    expect(Math.abs(moved.y / 5e-7 - 1)).toBeLessThan(1e-9);
  });

  test('composing is doing one after the other; angles add and never wrap', () => {
    for (const [a, b, p] of fc.sample(fc.tuple(rigidMoves(), rigidMoves(), points()), { numRuns: 200, seed: 1 })) {
      const both = compose(b, a);
      expect(distance(movePoint(both, p), movePoint(b, movePoint(a, p)))).toBeLessThan(1e-11);
      expect(both.angle).toBe(a.angle + b.angle);
    }
    const turns = [1, 2, 3, 4].reduce((sum) => compose(turnAbout(point(1, 1), 2), sum), stayPut);
    expect(turns.angle).toBe(8);
  });

  test('the inverse undoes, distances and vectors keep their length', () => {
    for (const [move, p, q] of fc.sample(fc.tuple(rigidMoves(), points(), points()), { numRuns: 200, seed: 2 })) {
      expect(distance(movePoint(invert(move), movePoint(move, p)), p)).toBeLessThan(2e-11);
      expect(Math.abs(distance(movePoint(move, p), movePoint(move, q)) - distance(p, q))).toBeLessThan(1e-11);
      expect(Math.abs(norm(moveVector(move, p)) - norm(p))).toBeLessThan(1e-12);
    }
  });

  test('a path moved stays joined exactly', () => {
    for (const [move, path] of fc.sample(fc.tuple(rigidMoves(), paths()), { numRuns: 100, seed: 3 })) {
      const moved = movePath(move, path);
      for (let i = 1; i < moved.length; i++) expect(moved[i]!.start).toEqual(moved[i - 1]!.end);
    }
    expect(movePoint(shiftBy(point(3, 4)), point(1, 1))).toEqual(point(4, 5));
  });
});
