import type { Point } from '../../geometry/point';
import type { Cut, CutCourse, CutTarget } from './plan';

/** Whether two cuts take a piece apart in the same way. How far they open, and what they take away, is left out. */
export function sameCut(a: Cut, b: Cut): boolean {
  return (
    a.id === b.id &&
    a.from === b.from &&
    sameTarget(a.to, b.to) &&
    sameCourse(a.course, b.course) &&
    samePlace(a.hinge, b.hinge)
  );
}

function sameTarget(a: CutTarget, b: CutTarget): boolean {
  if (a.kind === 'edge') return b.kind === 'edge' && a.edge === b.edge;
  if (a.kind === 'cut') return b.kind === 'cut' && a.cut === b.cut;
  return (
    b.kind === 'any-edge' &&
    a.except.length === b.except.length &&
    a.except.every((edge, index) => edge === b.except[index])
  );
}

function sameCourse(a: CutCourse, b: CutCourse): boolean {
  if (a.kind === 'path') return b.kind === 'path' && a.path === b.path;
  return b.kind === 'line' && samePlace(a.through, b.through) && samePlace(a.direction, b.direction);
}

function samePlace(a: Point | null, b: Point | null): boolean {
  return a === b || (a !== null && b !== null && a.x === b.x && a.y === b.y);
}
