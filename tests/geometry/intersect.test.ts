import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { curvatureAt } from '../../src/geometry/curvature';
import {
  intersectLineWithPath,
  intersectPaths,
  intersectSegments,
  type SegmentMeeting,
  selfIntersections,
} from '../../src/geometry/intersect';
import { add, cross, distance, mix, point, quarterTurn, scale, turn, unit } from '../../src/geometry/point';
import { movePath, movePoint, moveSegment, shiftBy, turnAbout } from '../../src/geometry/rigidMove';
import {
  type CubicSegment,
  cubic,
  line,
  type Path,
  reverseSegment,
  type Segment,
  segmentDerivativeAt,
  segmentPointAt,
  subSegment,
} from '../../src/geometry/segment';
import { closedOutlines, gentleCubics, meetingCubics, wildCubics } from '../support/arbitraries';
import { paperMeetings } from '../support/paperCurves';

/** Every reported point lies on both segments at its parameters. */
function expectOnBoth(a: Segment, b: Segment, meetings: readonly SegmentMeeting[]): void {
  for (const { ta, tb, point: at } of meetings) {
    expect(distance(segmentPointAt(a, ta), at)).toBeLessThan(2e-9);
    expect(distance(segmentPointAt(b, tb), at)).toBeLessThan(2e-9);
  }
}

const parabola = cubic(
  point(-100, 50),
  mix(point(-100, 50), point(0, -50), 2 / 3),
  mix(point(100, 50), point(0, -50), 2 / 3),
  point(100, 50),
); // y = x^2 / 200, x = 200 t - 100

describe('line and line', () => {
  const level = line(point(0, 0), point(100, 0));

  test('a crossing', () => {
    expect(intersectSegments(level, line(point(30, -10), point(30, 30)))).toEqual([
      { ta: 0.3, tb: 0.25, point: point(30, 0) },
    ]);
  });

  test('lines that would meet only beyond their ends do not meet', () => {
    expect(intersectSegments(level, line(point(30, 1), point(30, 30)))).toEqual([]);
    expect(intersectSegments(level, line(point(101, -5), point(101, 5)))).toEqual([]);
  });

  test('a shared end is reported once, as exactly an end of both', () => {
    expect(intersectSegments(level, line(point(100, 0), point(50, 80)))).toEqual([
      { ta: 1, tb: 0, point: point(100, 0) },
    ]);
  });

  test('an end on the other line', () => {
    expect(intersectSegments(level, line(point(25, 0), point(50, 80)))).toEqual([
      { ta: 0.25, tb: 0, point: point(25, 0) },
    ]);
  });

  test('a common stretch is reported by its two ends, whichever way the lines run', () => {
    const expected = [
      { ta: 0.4, tb: 0, point: point(40, 0) },
      { ta: 1, tb: 0.5, point: point(100, 0) },
    ];
    expect(intersectSegments(level, line(point(40, 0), point(160, 0)))).toEqual(expected);
    const backward = intersectSegments(level, line(point(160, 0), point(40, 0)));
    expect(backward.map(({ ta, tb }) => [ta, tb])).toEqual([
      [0.4, 1],
      [1, 0.5],
    ]);
  });

  test('parallel lines do not meet, and lines in one line but apart do not', () => {
    expect(intersectSegments(level, line(point(0, 1e-6), point(100, 1e-6)))).toEqual([]);
    expect(intersectSegments(level, line(point(101, 0), point(200, 0)))).toEqual([]);
  });

  test('a line without length is a point', () => {
    expect(intersectSegments(level, line(point(50, 0), point(50, 0)))).toHaveLength(1);
    expect(intersectSegments(level, line(point(50, 1), point(50, 1)))).toEqual([]);
  });
});

describe('line and curve', () => {
  test.each([40, 12.5, 1, 1e-3, 1e-6])('a level line at height %f of a parabola: x = +- sqrt(200 y)', (y) => {
    const meetings = intersectSegments(line(point(-200, y), point(200, y)), parabola);
    expect(meetings).toHaveLength(2);
    expect(Math.abs(meetings[0]!.point.x + Math.sqrt(200 * y))).toBeLessThan(1e-9);
    expect(Math.abs(meetings[1]!.point.x - Math.sqrt(200 * y))).toBeLessThan(1e-9);
    expect(Math.abs(meetings[0]!.tb - (100 - Math.sqrt(200 * y)) / 200)).toBeLessThan(1e-11);
  });

  test('a tangent touches once, and a line 1e-6 mm below does not meet', () => {
    const touch = intersectSegments(line(point(-200, 0), point(200, 0)), parabola);
    expect(touch).toHaveLength(1);
    expect(distance(touch[0]!.point, point(0, 0))).toBeLessThan(1e-6);
    expect(intersectSegments(line(point(-200, -1e-6), point(200, -1e-6)), parabola)).toEqual([]);
  });

  test('tangents all along the parabola touch once', () => {
    for (const x of [-93, -60, -1, 10, 77]) {
      const at = point(x, (x * x) / 200);
      const along = unit(point(100, x));
      const meetings = intersectSegments(line(add(at, scale(along, -150)), add(at, scale(along, 150))), parabola);
      expect(meetings).toHaveLength(1);
      expect(distance(meetings[0]!.point, at)).toBeLessThan(1e-3);
      expectOnBoth(line(add(at, scale(along, -150)), add(at, scale(along, 150))), parabola, meetings);
    }
  });

  test('three crossings of an S', () => {
    const s = cubic(point(0, 0), point(40, 120), point(60, -120), point(100, 0));
    const level = line(point(-10, 0), point(110, 0));
    const meetings = intersectSegments(level, s);
    expect(meetings.map(({ tb }) => tb)).toEqual([0, expect.closeTo(0.5, 14), 1]);
    expectOnBoth(level, s, meetings);
  });

  test('a straight curve along a line is a common stretch', () => {
    const straight = cubic(point(20, 0), point(40, 0), point(60, 0), point(80, 0));
    const meetings = intersectSegments(line(point(0, 0), point(50, 0)), straight);
    expect(meetings.map(({ point: p }) => p.x)).toEqual([expect.closeTo(20, 9), expect.closeTo(50, 9)]);
  });
});

describe('curve and curve', () => {
  test('two parabolas with known crossings', () => {
    // y = x^2 / 200 and y = 50 - x^2 / 200 cross where x^2 = 5000.
    const other = moveSegment(turnAbout(point(0, 25), Math.PI), parabola);
    const meetings = intersectSegments(parabola, other);
    expect(meetings).toHaveLength(2);
    for (const { point: at } of meetings) {
      expect(Math.abs(Math.abs(at.x) - Math.sqrt(5000))).toBeLessThan(1e-9);
      expect(Math.abs(at.y - 25)).toBeLessThan(1e-9);
    }
  });

  test('two S-curves crossing nine times, the most that two cubics can (Bezout)', () => {
    const a = cubic(point(0, 0), point(500, 100), point(-400, 100), point(100, 0));
    const b = moveSegment(turnAbout(point(50, 37.5), Math.PI / 2), a);
    const meetings = intersectSegments(a, b);
    expect(meetings).toHaveLength(9);
    expect(paperMeetings(a, b)).toHaveLength(9);
    expectOnBoth(a, b, meetings);
  });

  test.each([1, 0.1, 1e-2, 1e-3, 1e-4, 1e-5])(
    'a curve and itself shifted by %f mm cross once, where its tangent is along the shift',
    (size) => {
      const armhole = cubic(point(250, 180), point(190, 180), point(165, 120), point(175, 20));
      const shift = scale(point(2, 1), size / Math.sqrt(5));
      const meetings = intersectSegments(armhole, moveSegment(shiftBy(shift), armhole));
      expect(meetings).toHaveLength(1);
      const tangent = unit(segmentDerivativeAt(armhole, (meetings[0]!.ta + meetings[0]!.tb) / 2));
      expect(Math.abs(cross(tangent, unit(shift)))).toBeLessThan(1e-2 * size + 1e-4);
    },
  );

  test.each([1, 0.1, 1e-3, 1e-5])(
    'curves of different bend that touch are reported once; %f mm apart not at all',
    (gap) => {
      for (const c of fc.sample(gentleCubics(), { numRuns: 25, seed: 6 })) {
        const { touching, apart } = touchingCurve(c, 0.4, 1.5, gap);
        const touch = intersectSegments(c, touching);
        const near = touch.filter((m) => Math.abs(m.ta - 0.4) < 0.02);
        expect(near).toHaveLength(1);
        expectOnBoth(c, touching, touch);
        expect(intersectSegments(c, apart).filter((m) => Math.abs(m.ta - 0.4) < 0.02)).toEqual([]);
      }
    },
  );

  test('curves that overlap by 1e-5 mm next to a tangent cross twice', () => {
    // y = x^2/200 and y = 1e-5 - x^2/200 in opposite bends: x^2 = 1e-3.
    const other = moveSegment(turnAbout(point(0, 5e-6), Math.PI), parabola);
    const meetings = intersectSegments(parabola, other);
    expect(meetings).toHaveLength(2);
    for (const { point: at } of meetings) expect(Math.abs(Math.abs(at.x) - Math.sqrt(1e-3))).toBeLessThan(1e-7);
  });

  test('parts of one curve share a stretch, reported by its two ends', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 40, seed: 7 })) {
      const head = subSegment(c, 0, 0.7);
      const tail = subSegment(c, 0.3, 1);
      for (const other of [tail, reverseSegment(tail)]) {
        const meetings = intersectSegments(head, other);
        expect(meetings).toHaveLength(2);
        expect(distance(meetings[0]!.point, segmentPointAt(c, 0.3))).toBeLessThan(2e-9);
        expect(distance(meetings[1]!.point, segmentPointAt(c, 0.7))).toBeLessThan(2e-9);
      }
    }
  });

  test('a curve meets itself at both ends of its whole length', () => {
    const meetings = intersectSegments(parabola, parabola);
    expect(meetings.map(({ ta, tb }) => [ta, tb])).toEqual([
      [0, 0],
      [1, 1],
    ]);
  });

  test('curves joined end to start, smoothly or not, meet once, there', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 40, seed: 8 })) {
      const head = subSegment(c, 0, 0.5);
      const tail = subSegment(c, 0.5, 1);
      const meetings = intersectSegments(head, tail);
      expect(meetings.map(({ ta, tb }) => [ta, tb])).toEqual([[1, 0]]);
    }
  });

  test('1,000 pairs of ordinary curves through a common point: it is found, with all that paper.js finds', () => {
    let more = 0;
    for (const { a, b, ta, tb } of fc.sample(meetingCubics(), { numRuns: 1000, seed: 9 })) {
      const ours = intersectSegments(a, b);
      expectOnBoth(a, b, ours);
      expect(ours.some((m) => coversPlace(a, b, m, ta, tb))).toBe(true);
      const theirs = paperMeetings(a, b);
      for (const p of theirs) expect(Math.min(...ours.map((m) => distance(p, m.point)))).toBeLessThan(1e-4);
      if (ours.length > theirs.length) more++;
    }
    // Mostly joints, where paper leaves out ends a few 1e-9 mm beside the curve; every one of ours is on both.
    expect(more).toBeLessThan(100);
  });

  test('300 pairs of wild curves through a common point: it is found, and nothing that paper.js finds is missed, all of it on both curves', () => {
    for (const { a, b, ta, tb } of fc.sample(meetingCubics(wildCubics), { numRuns: 300, seed: 10 })) {
      const ours = intersectSegments(a, b);
      expect(ours.some((m) => coversPlace(a, b, m, ta, tb))).toBe(true);
      for (const p of paperMeetings(a, b)) {
        // paper's own points lie up to about 1e-5 mm beside shallow crossings.
        expect(Math.min(...ours.map((m) => distance(p, m.point)))).toBeLessThan(1e-4);
      }
      expectOnBoth(a, b, ours);
    }
  });
});

/** Whether a reported meeting is the known one, or one with it: near it, the curves no further than 1e-9 mm in between. */
function coversPlace(a: Segment, b: Segment, meeting: SegmentMeeting, ta: number, tb: number): boolean {
  const away = distance(meeting.point, segmentPointAt(a, ta));
  const middleA = segmentPointAt(a, (meeting.ta + ta) / 2);
  const middleB = segmentPointAt(b, (meeting.tb + tb) / 2);
  return away < 1e-6 || (away < 1e-2 && distance(middleA, middleB) < 2e-9);
}

/** A curve that touches c at t with `bend` times its curvature away to the other side, and the same moved off by gap. */
function touchingCurve(
  c: CubicSegment,
  t: number,
  bend: number,
  gap: number,
): { touching: CubicSegment; apart: CubicSegment } {
  const at = segmentPointAt(c, t);
  const along = unit(segmentDerivativeAt(c, t));
  // On the outer side of the bend, so that the two part on both sides of the touch.
  const away = scale(quarterTurn(along), curvatureAt(c, t) > 0 ? -1 : 1);
  const size = 40;
  const rise = bend * 10;
  const arch = (lift: number) =>
    cubic(
      add(at, add(scale(along, -size), scale(away, rise + lift))),
      add(at, add(scale(along, -size / 3), scale(away, -rise / 3 + lift))),
      add(at, add(scale(along, size / 3), scale(away, -rise / 3 + lift))),
      add(at, add(scale(along, size), scale(away, rise + lift))),
    );
  return { touching: arch(0), apart: arch(gap) };
}

describe('paths', () => {
  const square: Path = [
    line(point(0, 0), point(0, 100)),
    line(point(0, 100), point(100, 100)),
    line(point(100, 100), point(100, 0)),
    line(point(100, 0), point(0, 0)),
  ];

  test('meetings come in order along the first path; a joint comes once', () => {
    const diagonal: Path = [line(point(-50, -50), point(50, 50)), line(point(50, 50), point(150, 150))];
    const meetings = intersectPaths(square, diagonal);
    expect(meetings.map(({ point: p }) => p)).toEqual([point(0, 0), point(100, 100)]);
    expect(intersectPaths(diagonal, square).map(({ point: p }) => p)).toEqual([point(0, 0), point(100, 100)]);
  });

  test('paths that cross at their joints meet once', () => {
    const corner: Path = [line(point(-20, 100), point(0, 100)), line(point(0, 100), point(-20, 120))];
    expect(intersectPaths(square, corner)).toHaveLength(1);
  });

  test('a line with a closed path: sorted along the line, corners once, as the start of the leaving segment', () => {
    const crossings = intersectLineWithPath(point(50, 50), point(-2, -2), square);
    expect(crossings.map(({ along }) => along)).toEqual([
      expect.closeTo(-50 * Math.SQRT2, 12),
      expect.closeTo(50 * Math.SQRT2, 12),
    ]);
    expect(crossings.map(({ segment, t }) => [segment, t])).toEqual([
      [2, 0],
      [0, 0],
    ]);
  });

  test('a line along a side is reported by the ends of the side', () => {
    const crossings = intersectLineWithPath(point(0, 100), point(1, 0), square);
    expect(crossings.map(({ point: p }) => p)).toEqual([point(0, 100), point(100, 100)]);
  });

  test('a segment without length at a joint does not double the crossing', () => {
    const dotted: Path = [square[0]!, line(point(0, 100), point(0, 100)), square[1]!];
    expect(intersectLineWithPath(point(-50, 50), point(1, 1), dotted).map(({ point: p }) => p)).toEqual([
      point(0, 100),
    ]);
  });

  test('the end of an open path is its end', () => {
    const open = square.slice(0, 2);
    const crossings = intersectLineWithPath(point(100, 0), point(0, 1), open);
    expect(crossings).toEqual([{ segment: 1, t: 1, point: point(100, 100), along: 100 }]);
  });

  test('a line and a curve: the known points of the parabola', () => {
    const crossings = intersectLineWithPath(point(0, 12.5), point(5, 0), [parabola]);
    expect(crossings.map(({ along }) => along)).toEqual([expect.closeTo(-50, 10), expect.closeTo(50, 10)]);
  });

  test('turned and shifted, crossings follow', () => {
    const path: Path = [parabola, line(point(100, 50), point(-100, 50))];
    const before = intersectLineWithPath(point(-30, 0), point(1, 3), path);
    expect(before).toHaveLength(2);
    for (const angle of [0.7, -2.2, 3]) {
      const move = turnAbout(point(400, -300), angle);
      const after = intersectLineWithPath(
        movePoint(move, point(-30, 0)),
        turn(point(1, 3), angle),
        movePath(move, path),
      );
      expect(after).toHaveLength(2);
      after.forEach((crossing, i) => {
        expect(Math.abs(crossing.along - before[i]!.along)).toBeLessThan(1e-9);
        expect(distance(crossing.point, movePoint(move, before[i]!.point))).toBeLessThan(1e-9);
      });
    }
  });
});

describe('self-intersection', () => {
  test('simple outlines have none', () => {
    for (const outline of fc.sample(closedOutlines(), { numRuns: 300, seed: 11 }))
      expect(selfIntersections(outline)).toEqual([]);
  });

  test('a figure of eight has one', () => {
    const eight: Path = [
      line(point(0, 0), point(100, 100)),
      line(point(100, 100), point(100, 0)),
      line(point(100, 0), point(0, 100)),
      line(point(0, 100), point(0, 0)),
    ];
    expect(selfIntersections(eight)).toEqual([point(50, 50)]);
  });

  test('a corner that touches another side is one', () => {
    const touching: Path = [
      line(point(0, 0), point(0, 100)),
      line(point(0, 100), point(50, 0)),
      line(point(50, 0), point(100, 100)),
      line(point(100, 100), point(100, 0)),
      line(point(100, 0), point(0, 0)),
    ];
    expect(selfIntersections(touching)).toEqual([point(50, 0)]);
  });

  test('a spike that doubles back is one, at its far end', () => {
    const spike: Path = [
      line(point(0, 0), point(0, 100)),
      line(point(0, 100), point(150, 100)),
      line(point(150, 100), point(100, 100)),
      line(point(100, 100), point(0, 0)),
    ];
    expect(selfIntersections(spike).length).toBeGreaterThan(0);
  });

  test('a loop inside one curve is one, at its known point', () => {
    const loop = cubic(point(0, 0), point(150, 100), point(-50, 100), point(100, 0));
    const found = selfIntersections([loop, line(point(100, 0), point(100, -50)), line(point(100, -50), point(0, 0))]);
    expect(found).toHaveLength(1);
    // Symmetric about x = 50: x(t) = 50 gives 450 t - 1050 t^2 + 700 t^3 = 50, beside t = 1/2: t (1 - t) = 1/7.
    expect(distance(found[0]!, point(50, 300 / 7))).toBeLessThan(1e-9);
  });

  test('a closed curve alone, a cusp, and two smooth joints are none', () => {
    expect(selfIntersections([cubic(point(0, 0), point(100, 50), point(-100, 50), point(0, 0))])).toEqual([]);
    expect(selfIntersections([cubic(point(0, 0), point(100, 100), point(0, 100), point(100, 0))])).toEqual([]);
    expect(
      selfIntersections([
        cubic(point(0, 0), point(0, 60), point(100, 60), point(100, 0)),
        cubic(point(100, 0), point(100, -60), point(0, -60), point(0, 0)),
      ]),
    ).toEqual([]);
  });

  test('two neighbours that cross away from their joint', () => {
    const found = selfIntersections([
      cubic(point(0, 0), point(100, 0), point(150, 60), point(100, 100)),
      line(point(100, 100), point(40, -40)),
    ]);
    expect(found).toHaveLength(1);
  });

  test('segments without length do not count', () => {
    const outline: Path = [
      line(point(0, 0), point(0, 100)),
      line(point(0, 100), point(0, 100)),
      line(point(0, 100), point(100, 0)),
      line(point(100, 0), point(0, 0)),
    ];
    expect(selfIntersections(outline)).toEqual([]);
    expect(selfIntersections([])).toEqual([]);
  });

  test('a circle of 2,000 arcs does not cross itself', () => {
    const count = 2000;
    const corner = (i: number) =>
      point(300 * Math.cos((-2 * Math.PI * i) / count), 300 * Math.sin((-2 * Math.PI * i) / count));
    const handle = (4 / 3) * Math.tan(Math.PI / (2 * count));
    const outline: Path = Array.from({ length: count }, (_, i) => {
      const a = corner(i);
      const b = corner((i + 1) % count);
      return cubic(a, point(a.x + handle * a.y, a.y - handle * a.x), point(b.x - handle * b.y, b.y + handle * b.x), b);
    });
    expect(selfIntersections(outline)).toEqual([]);
  });
});
