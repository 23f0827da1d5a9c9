import { describe, expect, it } from 'vitest';
import { redrawOutline } from '../../src/exchange/redrawOutline';
import { enclosedArea } from '../../src/geometry/area';
import { point } from '../../src/geometry/point';
import { line, type Path, reversePath } from '../../src/geometry/segment';

const square: Path = [
  line(point(0, 0), point(0, 100)),
  line(point(0, 100), point(100, 100)),
  line(point(100, 100), point(100, 0)),
  line(point(100, 0), point(0, 0)),
];

describe('a closed line taken for an outline', () => {
  it('runs counter-clockwise as seen on screen, whichever way it was drawn, with its corners found', () => {
    for (const drawn of [square, reversePath(square)]) {
      const { path, corners, note } = redrawOutline(drawn);
      expect(enclosedArea(path)).toBeCloseTo(10_000, 9);
      expect(corners).toHaveLength(4);
      expect(note).toBeNull();
    }
  });

  it('a circle of 2,000 steps becomes few curves that enclose as much, and how near they keep is told', () => {
    const at = (index: number) => {
      const turn = ((index % 2000) / 2000) * 2 * Math.PI;
      return point(150 * Math.cos(turn), -150 * Math.sin(turn));
    };
    const steps = Array.from({ length: 2000 }, (_, index) => line(at(index), at(index + 1)));
    const { path, note } = redrawOutline(steps);
    expect(path.length).toBeLessThan(20);
    // Within the 0.1 mm that smoothing may leave the steps by, all the way round: 2 pi r times that.
    expect(Math.abs(enclosedArea(path) - Math.PI * 150 ** 2)).toBeLessThan(2 * Math.PI * 150 * 0.1);
    expect(note).toContain('mm');
  });
});
