import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crossesItself } from '../../src/operations/finishing/simpleLoop';

type P = { x: number; y: number };

/** All pairs of sides, the plain way. */
function crossesByAllPairs(polygon: readonly P[]): boolean {
  const n = polygon.length;
  const side = (a: P, b: P, p: P) => Math.sign((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x));
  for (let i = 0; i < n; i++) {
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const [a, b, c, d] = [polygon[i]!, polygon[i + 1]!, polygon[j]!, polygon[(j + 1) % n]!];
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return true;
    }
  }
  return false;
}

describe('whether a polygon crosses itself', () => {
  it('agrees with comparing all pairs of sides', () => {
    const jolts = fc.integer({ min: -120, max: 120 });
    let crossed = 0;
    let simple = 0;
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            r: fc.integer({ min: 1, max: 100 }),
            jolt: fc.oneof({ weight: 25, arbitrary: fc.constant(0) }, jolts),
          }),
          {
            minLength: 4,
            maxLength: 90,
          },
        ),
        (spokes) => {
          const polygon = spokes.map(({ r, jolt }, i) => {
            const angle = (2 * Math.PI * i) / spokes.length;
            return { x: (20 + r) * Math.cos(angle) + jolt * 1.37, y: (20 + r) * Math.sin(angle) + jolt };
          });
          const plain = crossesByAllPairs(polygon);
          if (plain) crossed += 1;
          else simple += 1;
          // Touching without crossing counts only in the program, so one direction each.
          if (plain) expect(crossesItself(polygon)).toBe(true);
          else if (crossesItself(polygon)) expect(touches(polygon)).toBe(true);
        },
      ),
      { numRuns: 2000 },
    );
    expect(crossed).toBeGreaterThan(100);
    expect(simple).toBeGreaterThan(100);
  });

  it('finds a touch', () => {
    const touching = [
      { x: 0, y: 0 },
      { x: 4, y: 0 },
      { x: 4, y: 4 },
      { x: 2, y: 0 },
      { x: 0, y: 4 },
    ];
    expect(crossesItself(touching)).toBe(true);
  });
});

/** Some corner lies on a side it does not belong to. */
function touches(polygon: readonly P[]): boolean {
  const n = polygon.length;
  return polygon.some((p, k) =>
    polygon.some((a, i) => {
      const b = polygon[(i + 1) % n]!;
      if (k === i || k === (i + 1) % n) return false;
      const along = Math.hypot(b.x - a.x, b.y - a.y);
      return Math.abs(Math.hypot(p.x - a.x, p.y - a.y) + Math.hypot(p.x - b.x, p.y - b.y) - along) < 1e-9;
    }),
  );
}
