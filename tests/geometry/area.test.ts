import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { containsPoint, enclosedArea } from '../../src/geometry/area';
import { flattenPath } from '../../src/geometry/flatten';
import { nearestOnPath } from '../../src/geometry/nearest';
import { mix, type Point, point } from '../../src/geometry/point';
import { movePath, turnAbout } from '../../src/geometry/rigidMove';
import { cubic, line, type Path, reversePath } from '../../src/geometry/segment';
import { closedOutlines } from '../support/arbitraries';
import { paperArea, paperContains } from '../support/paperCurves';

function polygon(corners: readonly Point[]): Path {
  return corners.map((corner, i) => line(corner, corners[(i + 1) % corners.length]!));
}

/** Down the left side, along the bottom to the right, up the right side: counter-clockwise on screen. */
const rectangle = polygon([point(10, 20), point(10, 120), point(70, 120), point(70, 20)]);

/** Centre line down, hem to the right, side up: the direction in which outlines are kept. */
const skirt = polygon([point(0, 0), point(0, 600), point(300, 600), point(200, 0)]);

/** Four cubic arcs of a circle, counter-clockwise on screen. */
function circle(centre: Point, r: number): Path {
  const k = (4 / 3) * (Math.SQRT2 - 1) * r;
  const { x, y } = centre;
  return [
    cubic(point(x + r, y), point(x + r, y - k), point(x + k, y - r), point(x, y - r)),
    cubic(point(x, y - r), point(x - k, y - r), point(x - r, y - k), point(x - r, y)),
    cubic(point(x - r, y), point(x - r, y + k), point(x - k, y + r), point(x, y + r)),
    cubic(point(x, y + r), point(x + k, y + r), point(x + r, y + k), point(x + r, y)),
  ];
}

/** The region between y = x^2 / 200 for |x| <= 100 and the level line y = 50, as y = down: a bowl, hem to the right. */
const bowl: Path = [
  cubic(
    point(-100, -50),
    mix(point(-100, -50), point(0, 50), 2 / 3),
    mix(point(100, -50), point(0, 50), 2 / 3),
    point(100, -50),
  ),
  line(point(100, -50), point(-100, -50)),
];

describe('area', () => {
  test('is positive for our orientation and negative the other way', () => {
    expect(enclosedArea(rectangle)).toBe(6000);
    expect(enclosedArea(skirt)).toBe(150_000);
    expect(enclosedArea(reversePath(rectangle))).toBe(-6000);
    expect(enclosedArea([])).toBe(0);
  });

  test('under a parabola it is two thirds of the box (Archimedes)', () => {
    expect(Math.abs(enclosedArea(bowl) - (2 / 3) * 200 * 50)).toBeLessThan(1e-9);
  });

  test('of the four-arc circle is exactly its own polynomial value, 3e-4 above pi r^2', () => {
    // For handles k r the area of the quarter is r^2 (1/2 + 3 k / 5 - 3 k^2 / 20), by integrating x dy.
    const k = (4 / 3) * (Math.SQRT2 - 1);
    const exact = 4 * 100 * 100 * (1 / 2 + (3 * k) / 5 - (3 * k * k) / 20);
    expect(Math.abs(enclosedArea(circle(point(300, -200), 100)) - exact)).toBeLessThan(1e-8);
    expect(exact / (Math.PI * 100 * 100) - 1).toBeLessThan(3.1e-4);
    expect(exact / (Math.PI * 100 * 100) - 1).toBeGreaterThan(0);
  });

  test('holds far from the origin and for any turn', () => {
    const area = enclosedArea(bowl);
    for (const angle of [0.1, 1, 2, 3]) {
      const moved = movePath(turnAbout(point(90_000, -70_000), angle), bowl);
      expect(Math.abs(enclosedArea(moved) - area)).toBeLessThan(1e-6);
    }
  });

  test('400 outlines: the same as paper.js, and as their fine polygons', () => {
    for (const outline of fc.sample(closedOutlines(), { numRuns: 400, seed: 1 })) {
      const area = enclosedArea(outline);
      expect(Math.abs(area - paperArea(outline)) / area).toBeLessThan(1e-12);
      expect(Math.abs(area - enclosedArea(polygon(flattenPath(outline, 1e-4).slice(0, -1)))) / area).toBeLessThan(1e-5);
    }
  });
});

describe('containing a point', () => {
  test('inside, outside, on a side, on a corner', () => {
    expect(containsPoint(rectangle, point(40, 60))).toBe(true);
    expect(containsPoint(rectangle, point(80, 60))).toBe(false);
    expect(containsPoint(rectangle, point(0, 60))).toBe(false);
    expect(containsPoint(rectangle, point(10, 60))).toBe(true);
    expect(containsPoint(rectangle, point(70, 120))).toBe(true);
    expect(containsPoint([], point(0, 0))).toBe(false);
  });

  test('a ray through corners, along sides and touching tips is not miscounted', () => {
    const star = polygon([
      point(0, 0),
      point(20, 40),
      point(0, 80),
      point(40, 60),
      point(80, 80),
      point(60, 40),
      point(80, 0),
      point(40, 20),
    ]);
    expect(containsPoint(star, point(10, 40))).toBe(false);
    expect(containsPoint(star, point(30, 40))).toBe(true);
    expect(containsPoint(star, point(-10, 0))).toBe(false);
    expect(containsPoint(star, point(-10, 80))).toBe(false);
    expect(containsPoint(star, point(30, 20))).toBe(true);
    const steps = polygon([point(0, 0), point(0, 50), point(50, 50), point(50, 25), point(100, 25), point(100, 0)]);
    expect(containsPoint(steps, point(25, 25))).toBe(true);
    expect(containsPoint(steps, point(-1, 25))).toBe(false);
    expect(containsPoint(steps, point(75, 25.001))).toBe(false);
  });

  test('beside and inside the bend of curves', () => {
    const round = circle(point(0, 0), 100);
    for (const angle of [0, 0.3, Math.PI / 4, 1.2, 2, 3, 4, 5]) {
      expect(containsPoint(round, point(99.9 * Math.cos(angle), 99.9 * Math.sin(angle)))).toBe(true);
      expect(containsPoint(round, point(100.1 * Math.cos(angle), 100.1 * Math.sin(angle)))).toBe(false);
    }
    expect(containsPoint(bowl, point(0, -1e-6))).toBe(true);
    expect(containsPoint(bowl, point(0, 1e-6))).toBe(false);
  });

  test('either way round', () => {
    expect(containsPoint(reversePath(bowl), point(10, -20))).toBe(true);
    expect(containsPoint(reversePath(bowl), point(10, 20))).toBe(false);
  });

  test('agrees with paper.js at 8,000 points that are not on the outline, levels of corners included', () => {
    for (const outline of fc.sample(closedOutlines(), { numRuns: 200, seed: 2 })) {
      const corners = outline.map((segment) => segment.start);
      for (let i = 0; i < 40; i++) {
        const a = corners[i % corners.length]!;
        const b = corners[(3 * i + 1) % corners.length]!;
        // At the height of a corner, at a place that varies.
        const p = i % 2 === 0 ? point(a.x + (i - 20) * 13, a.y) : mix(a, b, (i - 20) / 10);
        if (nearestOnPath(outline, p).distance < 1e-3) continue;
        expect(containsPoint(outline, p)).toBe(paperContains(outline, p));
      }
    }
  });
});
