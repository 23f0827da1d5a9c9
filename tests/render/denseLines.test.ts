import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { point } from '../../src/geometry/point';
import { cubic, line, type Path } from '../../src/geometry/segment';
import { bundle, drawStrand, type LineSink, mostInBundle, strandOf } from '../../src/render/denseLines';

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Notes what is drawn, as a canvas would get it. */
function noted() {
  const runs: Spot[][] = [];
  let closed = 0;
  const go = (x: number, y: number) => {
    runs.at(-1)!.push({ x, y });
  };
  const sink: LineSink = {
    moveTo: (x, y) => {
      runs.push([{ x, y }]);
    },
    lineTo: go,
    bezierCurveTo: (_ax, _ay, _bx, _by, x, y) => go(x, y),
    closePath: () => {
      closed++;
    },
  };
  return { sink, runs, closedRuns: () => closed };
}

function chain(spots: readonly Spot[]): Path {
  return spots.slice(1).map((spot, index) => line(spots[index]!, spot));
}

const ring = (steps: number, radius: number): Path => {
  const at = (index: number) => {
    const turn = ((index % steps) / steps) * 2 * Math.PI;
    return point(radius * Math.cos(turn), radius * Math.sin(turn));
  };
  return Array.from({ length: steps }, (_, index) => line(at(index), at(index + 1)));
};

describe('lines of very many steps', () => {
  it('nothing that is left out lay further from what is drawn than can be seen', () => {
    const spot = fc.record({
      x: fc.double({ min: -5, max: 5, noNaN: true }),
      y: fc.double({ min: -5, max: 5, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(spot, { minLength: 2, maxLength: 60 }), fc.constantFrom(0.05, 0.5, 2), (spots, apart) => {
        const { sink, runs } = noted();
        drawStrand({ segments: chain(spots), closed: false }, apart, sink);
        const [drawn] = runs as [Spot[]];
        expect(drawn[0]).toEqual(spots[0]);
        expect(drawn.at(-1)).toEqual(spots.at(-1));
        // The sides of a square of twice `apart` round a drawn point hold every step that was left out after it.
        for (const { x, y } of spots) {
          const away = Math.min(...drawn.map((p) => Math.max(Math.abs(p.x - x), Math.abs(p.y - y))));
          expect(away).toBeLessThanOrEqual(apart);
        }
      }),
    );
  });

  it('a ring of 40,000 steps is drawn in as few as can be seen, and stays closed', () => {
    const strand = strandOf(ring(40_000, 300));
    const coarse = noted();
    drawStrand(strand, 0.7, coarse.sink);
    expect(coarse.closedRuns()).toBe(1);
    // Round the ring there is room for 1885 mm / 0.7 mm steps, arithmetic.
    expect(coarse.runs[0]!.length).toBeLessThan((2 * Math.PI * 300) / 0.7);
    const fine = noted();
    drawStrand(strand, 0, fine.sink);
    expect(fine.runs[0]!.length).toBe(40_001);
  });

  it('a curve is never left out while its handles reach where it can be seen', () => {
    const bulge = cubic(point(0, 0), point(0, 9), point(0.1, 9), point(0.1, 0));
    const { sink, runs } = noted();
    drawStrand({ segments: [bulge, line(point(0.1, 0), point(20, 0))], closed: false }, 1, sink);
    expect(runs[0]).toHaveLength(3);
  });

  it('a curve that is flat as far as can be seen is drawn straight, one that bends is not', () => {
    const drawnAs = (rise: number) => {
      const straight: boolean[] = [];
      const { sink } = noted();
      drawStrand({ segments: [cubic(point(0, 0), point(3, rise), point(6, rise), point(9, 0))], closed: false }, 0.5, {
        ...sink,
        lineTo: () => straight.push(true),
        bezierCurveTo: () => straight.push(false),
      });
      return straight;
    };
    expect(drawnAs(0.4)).toEqual([true]);
    expect(drawnAs(0.6)).toEqual([false]);
  });

  it('bundles hold every line once, each inside its bounds, and are small', () => {
    const many = Array.from({ length: 3000 }, (_, index): Path => {
      const at = point((index * 37) % 900, (index * 101) % 1200);
      return [line(at, point(at.x + 4, at.y + 3))];
    });
    const bundles = bundle([...many, ring(2_000, 200)], false);
    const held = bundles.flatMap(({ strands }) => strands.flatMap(({ segments }) => segments));
    expect(held).toHaveLength(5_000);
    expect(new Set(held).size).toBe(5_000);
    for (const { bounds, strands } of bundles) {
      expect(strands.reduce((sum, { segments }) => sum + segments.length, 0)).toBeLessThanOrEqual(mostInBundle);
      for (const { start } of strands.flatMap(({ segments }) => segments)) {
        expect(start.x).toBeGreaterThanOrEqual(bounds.minX);
        expect(start.y).toBeLessThanOrEqual(bounds.maxY);
      }
    }
    // Whoever looks at one corner of the drawing paints a small part of it.
    const seen = bundles.filter(({ bounds }) => bounds.minX < 90 && bounds.minY < 120);
    expect(seen.length).toBeLessThan(bundles.length / 10);
  });

  it('a dashed line is not cut, so that its dashes keep their rhythm', () => {
    const bundles = bundle([ring(2_000, 200)], true);
    expect(bundles).toHaveLength(1);
    expect(bundles[0]!.strands).toEqual([{ segments: ring(2_000, 200), closed: true }]);
  });
});
