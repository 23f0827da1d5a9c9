import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chainFootFinder, footFinder } from '../../../src/exchange/foldInHalf/outlineSamples';
import { flattenPath } from '../../../src/geometry/flatten';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { line } from '../../../src/geometry/segment';
import { wholeFront } from './wholePieces';

const anyPlace = fc.record({
  x: fc.double({ min: -400, max: 400, noNaN: true }),
  y: fc.double({ min: -200, max: 700, noNaN: true }),
});

describe('the foot of a point on an outline', () => {
  const chain = flattenPath(wholeFront, 0.05).slice(0, -1);
  const chords = chain.map((p, i) => line(p, chain[(i + 1) % chain.length]!));

  it('R34 is as near as looking at every segment finds it, on curves and on a trace', () => {
    const [onCurves, onChain] = [footFinder(wholeFront), chainFootFinder(chain)];
    fc.assert(
      fc.property(anyPlace, (p) => {
        expect(Math.abs(onCurves(p).gap)).toBeCloseTo(nearestOnPath(wholeFront, p).distance, 9);
        expect(onChain(p).gap).toBeCloseTo(nearestOnPath(chords, p).distance, 9);
      }),
      { numRuns: 300 },
    );
  });

  it('R34 grows in the direction it gives', () => {
    const foot = footFinder(wholeFront);
    fc.assert(
      fc.property(anyPlace, (p) => {
        const { gap, normal } = foot(p);
        const farther = { x: p.x + 1e-4 * normal.x, y: p.y + 1e-4 * normal.y };
        // Where two places are all but equally near the distance has no one direction.
        fc.pre(Math.abs(gap) > 1);
        const grown = foot(farther);
        fc.pre(Math.hypot(grown.normal.x - normal.x, grown.normal.y - normal.y) < 0.01);
        expect(grown.gap - gap).toBeCloseTo(1e-4, 6);
      }),
      { numRuns: 100 },
    );
  });
});
