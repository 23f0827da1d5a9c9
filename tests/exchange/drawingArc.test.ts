import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcCubics, arcFromEnds } from '../../src/exchange/drawing/arc';
import { segmentPointAt } from '../../src/geometry/segment';

/** Largest distance of the cubics of a circular arc from the circle, sampled. */
function offCircle(radius: number, turn: number): number {
  const end = { x: radius * Math.cos(turn), y: radius * Math.sin(turn) };
  const arc = { centre: { x: 0, y: 0 }, axisX: { x: radius, y: 0 }, axisY: { x: 0, y: radius }, from: 0, sweep: turn };
  let worst = 0;
  for (const cubic of arcCubics(arc, { x: radius, y: 0 }, end)) {
    for (let i = 0; i <= 200; i++) {
      const { x, y } = segmentPointAt(cubic, i / 200);
      worst = Math.max(worst, Math.abs(Math.hypot(x, y) - radius));
    }
  }
  return worst;
}

describe('arcs', () => {
  it('stay within 1e-4 mm of a circle of radius 1,000 mm, whatever their turn', () => {
    for (const degrees of [1, 22.5, 22.6, 45, 89, 90, 180, 271, 360]) {
      expect(offCircle(1000, (degrees * Math.PI) / 180)).toBeLessThan(1e-4);
    }
  });

  it('leave the circle by (2/27) sin^6(q/4) / cos^2(q/4) of the radius (closed form, derived on paper)', () => {
    const q = Math.PI / 8;
    const known = (2 / 27) * (Math.sin(q / 4) ** 6 / Math.cos(q / 4) ** 2) * 1000;
    expect(offCircle(1000, q)).toBeGreaterThan(0.99 * known);
    expect(offCircle(1000, q)).toBeLessThan(1.01 * known);
  });

  it('a quarter turn takes four cubics, a full circle sixteen', () => {
    const arc = { centre: { x: 0, y: 0 }, axisX: { x: 5, y: 0 }, axisY: { x: 0, y: 5 }, from: 0 };
    expect(arcCubics({ ...arc, sweep: Math.PI / 2 }, { x: 5, y: 0 }, { x: 0, y: 5 })).toHaveLength(4);
    expect(arcCubics({ ...arc, sweep: -2 * Math.PI }, { x: 5, y: 0 }, { x: 5, y: 0 })).toHaveLength(16);
  });

  it('pass through both ends with the radii, tilt and flags asked for', () => {
    const coordinate = fc.double({ min: -500, max: 500, noNaN: true });
    const radius = fc.double({ min: 1, max: 800, noNaN: true });
    fc.assert(
      fc.property(
        fc.tuple(coordinate, coordinate, coordinate, coordinate, radius, radius),
        fc.double({ min: -720, max: 720, noNaN: true }),
        fc.boolean(),
        fc.boolean(),
        ([x0, y0, x1, y1, rx, ry], tilt, large, clockwise) => {
          fc.pre(Math.hypot(x1 - x0, y1 - y0) > 0.01);
          const arc = arcFromEnds({ x: x0, y: y0 }, { x: x1, y: y1 }, rx, ry, tilt, large, clockwise)!;
          const at = (angle: number) => ({
            x: arc.centre.x + Math.cos(angle) * arc.axisX.x + Math.sin(angle) * arc.axisY.x,
            y: arc.centre.y + Math.cos(angle) * arc.axisX.y + Math.sin(angle) * arc.axisY.y,
          });
          const reach = Math.hypot(arc.axisX.x, arc.axisX.y) + Math.hypot(arc.axisY.x, arc.axisY.y);
          const start = at(arc.from);
          const end = at(arc.from + arc.sweep);
          expect(Math.hypot(start.x - x0, start.y - y0)).toBeLessThan(1e-7 * reach);
          expect(Math.hypot(end.x - x1, end.y - y1)).toBeLessThan(1e-7 * reach);
          expect(arc.sweep > 0).toBe(clockwise);
          // Where the radii had to grow, both arcs are half turns.
          const half = Math.abs(Math.abs(arc.sweep) - Math.PI) < 1e-6;
          if (!half) expect(Math.abs(arc.sweep) > Math.PI).toBe(large);
          const grown = Math.hypot(arc.axisX.x, arc.axisX.y) / rx;
          expect(Math.hypot(arc.axisY.x, arc.axisY.y) / ry).toBeCloseTo(grown, 9);
          if (!half) expect(grown).toBeCloseTo(1, 12);
        },
      ),
      { numRuns: 2000 },
    );
  });
});
