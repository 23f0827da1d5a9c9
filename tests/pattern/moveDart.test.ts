import { describe, expect, it } from 'vitest';
import { distance } from '../../src/geometry/point';
import { moveDart, placesOf } from '../../src/pattern/moveDart';
import { validateMarks } from '../../src/pattern/validateMarks';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted, refusalOf } from '../support/outcomes';

const front = draftStraightSkirt().blocks.find(({ id }) => id === 'front')!;

describe('a dart laid elsewhere', () => {
  it('keeps its id, its width and its place in the list', () => {
    const [dart] = front.darts;
    const places = placesOf(front, dart!)!;
    const second = granted(moveDart(front, dart!.id, { ...places, from: places.from + 40, to: places.to + 40 }))
      .darts[0]!;
    const two = { ...front, darts: [dart!, { ...second, id: 'second' }] };
    const moved = granted(moveDart(two, dart!.id, { ...places, from: places.from - 15, to: places.to - 15 }));
    expect(moved.darts.map(({ id }) => id)).toEqual(['waist-dart', 'second']);
    expect(moved.darts[1]).toEqual(two.darts[1]);
    // Its mouth lies on a gently curved waist, so its straight width stays but for hundredths of a mm.
    expect(distance(...moved.darts[0]!.legs)).toBeCloseTo(distance(...dart!.legs), 1);
    expect(distance(moved.darts[0]!.legs[0], dart!.legs[0])).toBeGreaterThan(14);
    expect(validateMarks(moved)).toEqual([]);
  });

  it('refuses a dart that is not there, and a mouth too narrow to sew', () => {
    const places = placesOf(front, front.darts[0]!)!;
    expect(refusalOf(moveDart(front, 'gone', places))).toBe('dart-unknown');
    expect(refusalOf(moveDart(front, 'waist-dart', { ...places, to: places.from + 1 }))).not.toBe('accepted');
  });
});
