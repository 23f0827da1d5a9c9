import type { Point } from './point';
import { type Path, segmentPointAt, segmentSecondDerivativeAt } from './segment';
import { flattenAccuracy } from './tolerance';

/**
 * Points of a chain of chords that stays within `chordTolerance` mm of the path; every joint is one of the points.
 * A chord over a parameter step h leaves a curve by at most h^2/8 of its greatest second derivative, which for a
 * cubic is at an end.
 */
export function flattenPath(path: Path, chordTolerance = flattenAccuracy): Point[] {
  const first = path[0];
  if (first === undefined) return [];
  const points: Point[] = [first.start];
  for (const segment of path) {
    if (segment.kind === 'cubic') {
      const a = segmentSecondDerivativeAt(segment, 0);
      const b = segmentSecondDerivativeAt(segment, 1);
      const bend = Math.sqrt(Math.max(a.x * a.x + a.y * a.y, b.x * b.x + b.y * b.y));
      const steps = Math.ceil(Math.sqrt(bend / (8 * chordTolerance)));
      for (let i = 1; i < steps; i++) points.push(segmentPointAt(segment, i / steps));
    }
    points.push(segment.end);
  }
  return points;
}
