import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proposeCorners } from '../../../src/exchange/cornerProposal';
import { foldInHalf } from '../../../src/exchange/foldInHalf/foldInHalf';
import { findMirrorAxes } from '../../../src/exchange/foldInHalf/mirrorAxes';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { pathLength, pathPointAt } from '../../../src/geometry/path';
import { cross, subtract, unit } from '../../../src/geometry/point';
import { line, type Path } from '../../../src/geometry/segment';
import { unitTangentAt } from '../../../src/geometry/tangent';
import { leftSide, wholeFront } from './wholePieces';

const steps = 1000;
const shares = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 2 * steps, maxLength: 2 * steps });

/** The front traced in steps of 1.8 mm, its points off by up to `most` mm each way. */
function traced(most: number, by: readonly number[]): Path {
  const whole = pathLength(wholeFront);
  const points = Array.from({ length: steps }, (_, i) => {
    const { point } = pathPointAt(wholeFront, (i / steps) * whole);
    return { x: point.x + most * by[2 * i]!, y: point.y + most * by[2 * i + 1]! };
  });
  return points.map((p, i) => line(p, points[(i + 1) % steps]!));
}

function foldedAt(outline: Path) {
  const corners = proposeCorners(outline).map(({ segment }) => ({
    segment,
    t: 0,
    name: 'Edge',
    role: 'other' as const,
  }));
  const [axis] = findMirrorAxes(outline);
  const made = foldInHalf({
    outline,
    corners,
    mirror: axis!.mirror,
    kept: 'mean',
    meanOn: 'plus',
    foldEdge: { name: 'Centre front', role: 'centre-front' },
  });
  if (!made.ok) throw new Error(made.sentence);
  return { half: made.value, corners };
}

describe('a rough trace folded in half', () => {
  it('R34 with points off by up to 0.3 mm is drawn with few curves through their middle, square at the fold', () => {
    fc.assert(
      fc.property(shares, (by) => {
        const { half, corners } = foldedAt(traced(0.3, by));
        expect(corners.length).toBeLessThan(12);
        expect(half.outline.length).toBeLessThan(25);
        const { start, end } = half.outline.at(-1)!;
        const along = unit(subtract(end, start));
        expect(Math.abs(cross(along, unitTangentAt(half.outline[0]!, 0)))).toBeCloseTo(1, 9);
        expect(Math.abs(cross(along, unitTangentAt(half.outline.at(-2)!, 1)))).toBeCloseTo(1, 9);
        // Against the line it was traced from, which the fold never saw: no farther than the trace itself was off.
        const truth = [...leftSide, line(leftSide.at(-1)!.end, leftSide[0]!.start)];
        for (const { start: p } of half.outline.slice(1, -1)) {
          const mirrored = { x: -Math.abs(p.x), y: p.y };
          expect(nearestOnPath(truth, mirrored).distance).toBeLessThan(0.8);
        }
        expect(half.deviation).toBeLessThan(1.5);
      }),
      { numRuns: 3 },
    );
  });

  it('R34 its roughness is not taken for corners, and its eight corners are found', () => {
    fc.assert(
      fc.property(shares, (by) => {
        const outline = traced(0.3, by);
        const found = proposeCorners(outline).map(({ point }) => point);
        const real = wholeFront.map(({ start }) => start).filter(({ x }) => Math.abs(x) > 1);
        for (const { x, y } of real) {
          expect(Math.min(...found.map((p) => Math.hypot(p.x - x, p.y - y)))).toBeLessThan(4);
        }
        expect(found.length).toBeLessThanOrEqual(real.length + 2);
      }),
      { numRuns: 3 },
    );
  });
});
