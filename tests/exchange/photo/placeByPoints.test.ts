import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeByPoints } from '../../../src/exchange/photo/placeByPoints';
import { distance, type Point } from '../../../src/geometry/point';
import { movePoint, turnAbout } from '../../../src/geometry/rigidMove';

const places = fc.array(
  fc.record({ x: fc.double({ min: -800, max: 800, noNaN: true }), y: fc.double({ min: -800, max: 800, noNaN: true }) }),
  { minLength: 2, maxLength: 8 },
);
const spread = (points: readonly Point[]): boolean => points.some((p) => points.some((q) => distance(p, q) > 100));

describe('joining two straightened pictures by shared places', () => {
  it('finds the very turn and shift', () => {
    fc.assert(
      fc.property(places.filter(spread), fc.double({ min: -3.1, max: 3.1, noNaN: true }), (points, angle) => {
        const move = turnAbout({ x: 120, y: -40 }, angle);
        const placed = placeByPoints(points.map((from) => ({ from, to: movePoint(move, from) })));
        expect(placed.ok).toBe(true);
        if (!placed.ok) return;
        expect(placed.value.worst).toBeLessThan(1e-9);
        expect(placed.value.scale).toBeCloseTo(1, 9);
        const far = { x: 1000, y: 1000 };
        expect(distance(movePoint(placed.value.move, far), movePoint(move, far))).toBeLessThan(1e-7);
      }),
    );
  });

  it('cannot be bettered by a small turn or shift (least squares)', () => {
    const pairs = [
      { from: { x: 0, y: 0 }, to: { x: 10.3, y: 0.2 } },
      { from: { x: 200, y: 0 }, to: { x: 210.1, y: -0.3 } },
      { from: { x: 100, y: 150 }, to: { x: 109.8, y: 150.2 } },
    ];
    const placed = placeByPoints(pairs);
    if (!placed.ok) throw new Error(placed.sentence);
    const squares = (turn: number, x: number, y: number): number =>
      pairs.reduce((sum, { from, to }) => {
        const p = movePoint(turnAbout({ x: 100, y: 50 }, turn), movePoint(placed.value.move, from));
        return sum + (p.x + x - to.x) ** 2 + (p.y + y - to.y) ** 2;
      }, 0);
    for (const step of [1e-4, -1e-4]) {
      expect(squares(step, 0, 0)).toBeGreaterThan(squares(0, 0, 0));
      expect(squares(0, step, 0)).toBeGreaterThan(squares(0, 0, 0));
      expect(squares(0, 0, step)).toBeGreaterThan(squares(0, 0, 0));
    }
    expect(placed.value.worst).toBeGreaterThan(0.1);
    expect(placed.value.worst).toBeLessThan(0.5);
  });

  it('refuses one place, places too near each other, and pictures of different size', () => {
    const code = (pairs: Parameters<typeof placeByPoints>[0]): string => {
      const placed = placeByPoints(pairs);
      return placed.ok ? 'placed' : placed.code;
    };
    const at = (x: number, y: number, scale = 1) => ({ from: { x, y }, to: { x: x * scale, y: y * scale } });
    expect(code([at(0, 0)])).toBe('photo-join-too-few');
    expect(code([at(0, 0), at(30, 20)])).toBe('photo-join-too-near');
    expect(code([at(0, 0), at(300, 0, 1.006)])).toBe('photo-join-scale');
    expect(code([at(0, 0), at(300, 0, 0.994)])).toBe('photo-join-scale');
    expect(code([at(0, 0), at(300, 0, 1.004)])).toBe('placed');
    expect(code([at(0, 0), at(Number.NaN, 0)])).toBe('photo-join-too-near');
  });
});
