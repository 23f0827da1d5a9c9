import { describe, expect, it } from 'vitest';
import { pathLength } from '../../src/geometry/path';
import { point } from '../../src/geometry/point';
import { cubic, line } from '../../src/geometry/segment';
import { clipPath } from '../../src/render/clipPath';

const box = { minX: 0, minY: 0, maxX: 100, maxY: 50 };

describe('what is drawn of a line on a page', () => {
  it('is all of it inside, none of it outside', () => {
    const inside = [line(point(0, 0), point(100, 50))];
    expect(clipPath(inside, box)).toEqual([inside]);
    expect(clipPath([line(point(-5, -5), point(-1, 60))], box)).toEqual([]);
    expect(clipPath([line(point(90, -30), point(140, 20))], box)).toEqual([]);
  });

  it('ends on the border, and comes back as a part of its own', () => {
    const there = line(point(50, 25), point(150, 25));
    const back = line(point(150, 25), point(50, 40));
    expect(clipPath([there, back], box)).toEqual([
      [line(point(50, 25), point(100, 25))],
      [line(point(100, 32.5), point(50, 40))],
    ]);
  });

  it('of a curve is as long as the curve is inside, to the width of its steps', () => {
    // Symmetrical about x = 100, so the border halves it.
    const arch = cubic(point(60, 40), point(80, 0), point(120, 0), point(140, 40));
    const [half, ...rest] = clipPath([arch], box);
    expect(rest).toEqual([]);
    expect(Math.abs(pathLength(half!) - pathLength([arch]) / 2)).toBeLessThan(0.05);
    for (const { end } of half!) expect(end.x).toBeLessThanOrEqual(100);
  });
});
