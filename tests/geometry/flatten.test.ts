import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flattenPath } from '../../src/geometry/flatten';
import { nearestOnSegment } from '../../src/geometry/nearest';
import { point } from '../../src/geometry/point';
import { cubic, line, type Path, segmentPointAt } from '../../src/geometry/segment';
import { gentleCubics, wildCubics } from '../support/arbitraries';

test('chords stay within the tolerance over five orders of magnitude', () => {
  for (const c of fc.sample(fc.oneof(gentleCubics(), wildCubics()), { numRuns: 40, seed: 1 })) {
    for (const tolerance of [10, 1, 0.1, 1e-2, 1e-3]) {
      const points = flattenPath([c], tolerance);
      const steps = points.length - 1;
      for (let i = 0; i < 200; i++) {
        const t = (i + 0.5) / 200;
        const chord = line(points[Math.floor(t * steps)]!, points[Math.floor(t * steps) + 1]!);
        expect(nearestOnSegment(chord, segmentPointAt(c, t)).distance).toBeLessThanOrEqual(tolerance * (1 + 1e-9));
      }
    }
  }
});

test('joints are among the points, lines add none, and no more chords are made than needed', () => {
  const path: Path = [
    line(point(0, 0), point(50, 0)),
    cubic(point(50, 0), point(80, 0), point(100, 20), point(100, 50)),
    line(point(100, 50), point(100, 90)),
  ];
  const points = flattenPath(path, 0.05);
  expect(points[0]).toEqual(point(0, 0));
  expect(points[1]).toEqual(point(50, 0));
  expect(points[points.length - 2]).toEqual(point(100, 50));
  expect(points[points.length - 1]).toEqual(point(100, 90));
  // A quarter circle of radius 50 needs (pi/2) / (2 acos(1 - 0.05/50)) = 17.6 chords; even steps cost a few more.
  expect(points.length - 3).toBeGreaterThanOrEqual(17);
  expect(points.length - 3).toBeLessThanOrEqual(22);
  expect(flattenPath([])).toEqual([]);
});
