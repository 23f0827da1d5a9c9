import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  curvatureAt,
  curvatureBound,
  curvatureSignChanges,
  inflections,
  totalTurning,
} from '../../src/geometry/curvature';
import { angleBetween, mix, point } from '../../src/geometry/point';
import { movePath, turnAbout } from '../../src/geometry/rigidMove';
import {
  type CubicSegment,
  cubic,
  line,
  type Path,
  reversePath,
  segmentDerivativeAt,
  subSegment,
} from '../../src/geometry/segment';
import { closedOutlines, gentleCubics, wildCubics } from '../support/arbitraries';
import { paperCurvature } from '../support/paperCurves';

const parabola = cubic(
  point(-100, 50),
  mix(point(-100, 50), point(0, -50), 2 / 3),
  mix(point(100, 50), point(0, -50), 2 / 3),
  point(100, 50),
); // y = x^2 / 200

/** Cubic arc of a circle about the origin from heading a to b. */
function arc(r: number, a: number, b: number): CubicSegment {
  const k = (4 / 3) * Math.tan((b - a) / 4) * r;
  const at = (t: number) => point(r * Math.cos(t), r * Math.sin(t));
  const tangent = (t: number) => point(-Math.sin(t) * k, Math.cos(t) * k);
  const [p, q] = [at(a), at(b)];
  return cubic(p, point(p.x + tangent(a).x, p.y + tangent(a).y), point(q.x - tangent(b).x, q.y - tangent(b).y), q);
}

const s = cubic(point(0, 0), point(40, 60), point(60, -60), point(100, 0));

describe('curvature', () => {
  test('of a parabola is y" / (1 + y\'^2)^(3/2), turning from y towards x as x grows', () => {
    for (const t of [0, 0.1, 0.37, 0.5, 0.9, 1]) {
      const x = 200 * t - 100;
      const expected = 1 / 100 / (1 + (x / 100) ** 2) ** 1.5;
      expect(Math.abs(curvatureAt(parabola, t) - expected)).toBeLessThan(1e-15);
    }
  });

  test('of a small circle arc is 1 / r at its ends and middle', () => {
    const c = arc(80, 0.2, 0.4);
    for (const t of [0, 0.5, 1]) expect(Math.abs(curvatureAt(c, t) * 80 - 1)).toBeLessThan(1e-4);
    expect(curvatureAt(arc(80, 0.4, 0.2), 0.5)).toBeLessThan(0);
  });

  test('agrees with paper.js on 300 ordinary curves', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 300, seed: 1 })) {
      for (const t of [0, 0.3, 0.8, 1]) {
        expect(Math.abs(curvatureAt(c, t) - paperCurvature(c, t))).toBeLessThan(
          1e-10 * (1 + Math.abs(curvatureAt(c, t))),
        );
      }
    }
  });

  test('at a handle of no length is infinite, or 0 if the curve is straight', () => {
    expect(curvatureAt(cubic(point(0, 0), point(0, 0), point(50, 0), point(50, 40)), 0)).toBe(Number.POSITIVE_INFINITY);
    expect(curvatureAt(cubic(point(0, 0), point(0, 0), point(50, 0), point(50, -40)), 0)).toBe(
      Number.NEGATIVE_INFINITY,
    );
    expect(curvatureAt(cubic(point(0, 0), point(0, 0), point(50, 0), point(90, 0)), 0)).toBe(0);
    expect(curvatureAt(line(point(0, 0), point(5, 5)), 0.5)).toBe(0);
  });

  test('never exceeds its stated bound', () => {
    let finite = 0;
    for (const c of fc.sample(fc.oneof(gentleCubics(), wildCubics()), { numRuns: 400, seed: 2 })) {
      const bound = curvatureBound(c);
      if (bound < Number.POSITIVE_INFINITY) finite++;
      for (let i = 0; i <= 64; i++) {
        const k = Math.abs(curvatureAt(c, i / 64));
        if (Number.isFinite(k)) expect(k).toBeLessThanOrEqual(bound * (1 + 1e-9));
      }
    }
    expect(finite).toBeGreaterThan(100);
  });
});

describe('changes of side', () => {
  test('an S has one, an arch none, an S and its mirror image end to end two', () => {
    expect(inflections(s)).toEqual([expect.closeTo(0.5, 14)]);
    expect(curvatureSignChanges([s])).toBe(1);
    expect(curvatureSignChanges([parabola])).toBe(0);
    const mirrored = cubic(point(100, 0), point(140, 60), point(160, -60), point(200, 0));
    expect(curvatureSignChanges([s, mirrored])).toBe(3);
    expect(curvatureSignChanges([s, cubic(point(100, 0), point(140, -60), point(160, 60), point(200, 0))])).toBe(2);
  });

  test('are seen across joints and straight stretches; corners do not count', () => {
    const down = cubic(point(0, 0), point(30, 0), point(60, 10), point(90, 30));
    const between = line(point(90, 30), point(120, 50));
    const up = cubic(point(120, 50), point(150, 70), point(180, 80), point(210, 80));
    expect(curvatureSignChanges([down, between, up])).toBe(1);
    expect(curvatureSignChanges([line(point(0, 0), point(9, 0)), line(point(9, 0), point(9, 9))])).toBe(0);
  });

  test('a straight cubic has none, even with rounding off its chord', () => {
    const nearly = cubic(point(0, 0), point(30, 1e-12), point(60, -1e-12), point(90, 0));
    expect(curvatureSignChanges([nearly])).toBe(0);
  });

  test('do not depend on place, turn or direction', () => {
    for (const c of fc.sample(wildCubics(), { numRuns: 200, seed: 3 })) {
      const path: Path = [c];
      const changes = curvatureSignChanges(path);
      // Skip curves whose bend is within rounding of none at a point.
      if (inflections(c).some((t) => t < 1e-4 || t > 1 - 1e-4)) continue;
      const kinks = [0.001, 0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999].map((t) => Math.abs(curvatureAt(c, t)));
      if (Math.min(...kinks) < 1e-9 || Math.max(...kinks) > 1e3) continue;
      expect(curvatureSignChanges(reversePath(path))).toBe(changes);
      expect(curvatureSignChanges(movePath(turnAbout(point(50, 80), 0.7), path))).toBe(changes);
    }
  });
});

describe('total turning', () => {
  test('of an arc is its angle, with the sign from x towards y', () => {
    expect(totalTurning([arc(50, 0, 1.2)])).toBeCloseTo(1.2, 12);
    expect(totalTurning([arc(50, 1.2, 0)])).toBeCloseTo(-1.2, 12);
  });

  test('of a simple closed outline with its last corner is one full turn, negative in our orientation (Hopf)', () => {
    for (const outline of fc.sample(closedOutlines(), { numRuns: 300, seed: 4 })) {
      const last = segmentDerivativeAt(outline[outline.length - 1]!, 1);
      const turned = totalTurning(outline) + angleBetween(last, segmentDerivativeAt(outline[0]!, 0));
      expect(turned).toBeCloseTo(-2 * Math.PI, 9);
    }
  });

  test('counts corners and more than one turn', () => {
    expect(totalTurning([line(point(0, 0), point(9, 0)), line(point(9, 0), point(9, 9))])).toBeCloseTo(Math.PI / 2, 14);
    const spiral: Path = [0, 1, 2, 3, 4, 5, 6, 7, 8].map((i) => arc(50, i, i + 1));
    expect(totalTurning(spiral)).toBeCloseTo(9, 10);
    expect(totalTurning([])).toBe(0);
  });

  test('of a curve that turns by more than half a turn, and of a loop', () => {
    const loop = cubic(point(0, 0), point(150, 100), point(-50, 100), point(100, 0));
    // From heading atan(2/3) round through 90, 180 ... to heading -atan(2/3): the way round is 360 degrees less.
    const turned = totalTurning([loop]);
    const ends = angleBetween(segmentDerivativeAt(loop, 0), segmentDerivativeAt(loop, 1));
    expect(Math.abs(Math.abs(turned - ends) - 2 * Math.PI)).toBeLessThan(1e-12);
  });

  test('adds up over parts', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 200, seed: 5 })) {
      const parts = [subSegment(c, 0, 0.3), subSegment(c, 0.3, 0.8), subSegment(c, 0.8, 1)];
      expect(Math.abs(totalTurning(parts) - totalTurning([c]))).toBeLessThan(1e-9);
    }
  });
});
