import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { segmentLength, segmentLengthBetween, segmentParameterAtLength } from '../../src/geometry/arcLength';
import { containsPoint, enclosedArea } from '../../src/geometry/area';
import { pathBounds, segmentBounds } from '../../src/geometry/bounds';
import { curvatureAt, totalTurning } from '../../src/geometry/curvature';
import { fitCubic } from '../../src/geometry/fit';
import {
  intersectLineWithPath,
  intersectPaths,
  intersectSegments,
  type SegmentMeeting,
  selfIntersections,
} from '../../src/geometry/intersect';
import { nearestOnPath, nearestOnSegment } from '../../src/geometry/nearest';
import { offsetPath } from '../../src/geometry/offset';
import { distanceAt, pathEnd, pathLength, pathPointAt, pathStart, splitPathAt, subPath } from '../../src/geometry/path';
import { add, distance, point, quarterTurn, scale } from '../../src/geometry/point';
import { invert, movePath, movePoint, moveSegment } from '../../src/geometry/rigidMove';
import {
  type Path,
  reversePath,
  reverseSegment,
  type Segment,
  segmentPointAt,
  splitSegment,
} from '../../src/geometry/segment';
import { unitTangentAt } from '../../src/geometry/tangent';
import {
  closedOutlines,
  gentleCubics,
  meetingCubics,
  paths,
  pieceDrafts,
  points,
  rigidMoves,
  segments,
  wildCubics,
} from '../support/arbitraries';

const runs = { numRuns: 2000, seed: 20_000 };
const fraction = () => fc.integer({ min: 0, max: 1000 }).map((k) => k / 1000);

describe('split and join', () => {
  test('the parts of a segment are the segment, share their split point, and their lengths add up', () => {
    fc.assert(
      fc.property(segments(), fraction(), fraction(), (segment, t, s) => {
        const [head, tail] = splitSegment(segment, t);
        expect(head.end).toEqual(tail.start);
        expect(distance(segmentPointAt(head, s), segmentPointAt(segment, s * t))).toBeLessThan(1e-11);
        expect(distance(segmentPointAt(tail, s), segmentPointAt(segment, t + s * (1 - t)))).toBeLessThan(1e-11);
        const whole = segmentLength(segment);
        expect(Math.abs(segmentLength(head) + segmentLength(tail) - whole)).toBeLessThan(3e-9);
      }),
      runs,
    );
  });

  test('the parts of a path join again, their lengths add up, and a part between two distances is as long as said', () => {
    fc.assert(
      fc.property(paths(), fraction(), fraction(), (path, f, g) => {
        const whole = pathLength(path);
        const [head, tail] = splitPathAt(path, f * whole);
        expect(Math.abs(pathLength(head) + pathLength(tail) - whole)).toBeLessThan(1e-7);
        if (head.length > 0 && tail.length > 0) expect(pathEnd(head)).toEqual(pathStart(tail));
        const [d0, d1] = [Math.min(f, g) * whole, Math.max(f, g) * whole];
        expect(Math.abs(pathLength(subPath(path, d0, d1)) - (d1 - d0))).toBeLessThan(3e-7);
      }),
      runs,
    );
  });

  test('a place at a distance lies at that distance', () => {
    fc.assert(
      fc.property(paths(), fraction(), (path, f) => {
        const along = f * pathLength(path);
        const place = pathPointAt(path, along);
        expect(Math.abs(distanceAt(path, place.segment, place.t) - along)).toBeLessThan(1.1e-7);
        expect(segmentPointAt(path[place.segment]!, place.t)).toEqual(place.point);
      }),
      runs,
    );
  });
});

describe('length', () => {
  test('is additive, at least the chord, at most the control polygon, the same backward and after a move', () => {
    fc.assert(
      fc.property(segments(), fraction(), rigidMoves(), (segment, t, move) => {
        const length = segmentLength(segment);
        expect(length).toBeGreaterThanOrEqual(distance(segment.start, segment.end) - 1e-9);
        if (segment.kind === 'cubic') {
          const { start, control1, control2, end } = segment;
          const polygon = distance(start, control1) + distance(control1, control2) + distance(control2, end);
          expect(length).toBeLessThanOrEqual(polygon + 1e-9);
        }
        const parts = segmentLengthBetween(segment, 0, t) + segmentLengthBetween(segment, t, 1);
        expect(Math.abs(parts - length)).toBeLessThan(3e-9);
        expect(Math.abs(segmentLength(reverseSegment(segment)) - length)).toBeLessThan(2e-9);
        expect(Math.abs(segmentLength(moveSegment(move, segment)) - length)).toBeLessThan(2e-9);
      }),
      runs,
    );
  });

  test('the parameter found for a length has that length behind it, cusps and missing handles included', () => {
    fc.assert(
      fc.property(segments(), fraction(), (segment, f) => {
        const length = f * segmentLength(segment);
        const t = segmentParameterAtLength(segment, length);
        expect(Math.abs(segmentLengthBetween(segment, 0, t, 1e-11) - length)).toBeLessThan(2e-9);
      }),
      runs,
    );
  });
});

describe('area and containment', () => {
  test('area does not change under rigid moves and splits, and changes sign with the direction', () => {
    fc.assert(
      fc.property(closedOutlines(), rigidMoves(), fraction(), (outline, move, f) => {
        const area = enclosedArea(outline);
        expect(area).toBeGreaterThan(0);
        expect(Math.abs(enclosedArea(movePath(move, outline)) - area)).toBeLessThan(1e-12 * 4e6);
        expect(Math.abs(enclosedArea(reversePath(outline)) + area)).toBeLessThan(1e-12 * 4e6);
        const [head, tail] = splitPathAt(outline, f * pathLength(outline));
        expect(Math.abs(enclosedArea([...head, ...tail]) - area)).toBeLessThan(1e-12 * 4e6);
      }),
      runs,
    );
  });

  test('a point is inside or outside alike before and after a move', () => {
    fc.assert(
      fc.property(closedOutlines(), points(), rigidMoves(), (outline, p, move) => {
        // Points nearer than rounding of the move may fall on either side.
        fc.pre(nearestOnPath(outline, p).distance > 1e-8);
        const inside = containsPoint(outline, p);
        expect(containsPoint(movePath(move, outline), movePoint(move, p))).toBe(inside);
        expect(containsPoint(reversePath(outline), p)).toBe(inside);
      }),
      runs,
    );
  });

  test('along any line, inside and outside change only at its crossings with the outline', () => {
    fc.assert(
      fc.property(
        closedOutlines(),
        points(),
        fc.integer({ min: 0, max: 359 }),
        fraction(),
        (outline, p, degrees, f) => {
          const angle = (degrees * Math.PI) / 180;
          // Through the outline's box, so that most lines hit it.
          const box = pathBounds(outline);
          const through = point(box.minX + f * (box.maxX - box.minX), box.minY + ((f * 7) % 1) * (box.maxY - box.minY));
          const direction =
            degrees % 5 === 0 ? { x: p.x - through.x, y: p.y - through.y } : point(Math.cos(angle), Math.sin(angle));
          fc.pre(direction.x !== 0 || direction.y !== 0);
          const crossings = intersectLineWithPath(through, direction, outline);
          for (let i = 1; i < crossings.length; i++) {
            const a = crossings[i - 1]!.point;
            const b = crossings[i]!.point;
            if (distance(a, b) < 1e-4) continue;
            const between = [0.02, 0.3, 0.5, 0.98].map((k) =>
              containsPoint(outline, point(a.x + k * (b.x - a.x), a.y + k * (b.y - a.y))),
            );
            expect(new Set(between).size).toBe(1);
          }
          if (containsPoint(outline, through)) expect(crossings.length).toBeGreaterThanOrEqual(2);
        },
      ),
      runs,
    );
  });
});

test('a path written as JSON and read back is the same path, and measures the same to the last digit', () => {
  fc.assert(
    fc.property(paths(), (path) => {
      const text = JSON.stringify(path);
      const read = JSON.parse(text) as Path;
      expect(JSON.stringify(read)).toBe(text);
      expect(pathLength(read)).toBe(pathLength(path));
      path.forEach((segment, i) => {
        expect(distance(segment.start, read[i]!.start)).toBe(0);
        expect(distance(segmentPointAt(segment, 0.37), segmentPointAt(read[i]!, 0.37))).toBe(0);
      });
    }),
    runs,
  );
});

describe('nearest place', () => {
  test('is on the segment, no further than 200 samples, and changes no more than the point that looks', () => {
    fc.assert(
      fc.property(segments(), points(), points(), (segment, p, q) => {
        const near = nearestOnSegment(segment, p);
        expect(distance(segmentPointAt(segment, near.t), near.point)).toBe(0);
        expect(Math.abs(distance(near.point, p) - near.distance)).toBeLessThan(1e-12);
        let sampled = Number.POSITIVE_INFINITY;
        for (let i = 0; i <= 200; i++) sampled = Math.min(sampled, distance(segmentPointAt(segment, i / 200), p));
        expect(near.distance).toBeLessThanOrEqual(sampled + 1e-9);
        expect(Math.abs(nearestOnSegment(segment, q).distance - near.distance)).toBeLessThanOrEqual(
          distance(p, q) + 1e-9,
        );
      }),
      runs,
    );
  });

  test('of a point on a path is that point, and follows a move', () => {
    fc.assert(
      fc.property(paths(), fraction(), points(), rigidMoves(), (path, f, p, move) => {
        expect(nearestOnPath(path, pathPointAt(path, f * pathLength(path)).point).distance).toBeLessThan(1e-9);
        const before = nearestOnPath(path, p).distance;
        expect(Math.abs(nearestOnPath(movePath(move, path), movePoint(move, p)).distance - before)).toBeLessThan(1e-9);
      }),
      runs,
    );
  });
});

/** Whether a reported meeting is the one at (ta, tb), or one with it: close, the curves no further than 1e-9 mm in between. */
function covers(a: Segment, b: Segment, meeting: SegmentMeeting, ta: number, tb: number): boolean {
  const away = distance(meeting.point, segmentPointAt(a, ta));
  const gap = distance(segmentPointAt(a, (meeting.ta + ta) / 2), segmentPointAt(b, (meeting.tb + tb) / 2));
  return away < 1e-6 || (away < 1e-2 && gap < 2e-9);
}

describe('meetings', () => {
  test.each([
    ['ordinary', () => meetingCubics(gentleCubics)],
    ['wild and near-degenerate', () => meetingCubics(wildCubics)],
  ])(
    'of %s curves moved through a common point include it, lie on both, and are the same seen from either',
    (_, pairs) => {
      fc.assert(
        fc.property(pairs(), ({ a, b, ta, tb }) => {
          const meetings = intersectSegments(a, b);
          expect(meetings.some((m) => covers(a, b, m, ta, tb))).toBe(true);
          for (const m of meetings) {
            expect(distance(segmentPointAt(a, m.ta), m.point)).toBeLessThan(2e-9);
            expect(distance(segmentPointAt(b, m.tb), m.point)).toBeLessThan(2e-9);
          }
          const swapped = intersectSegments(b, a);
          for (const m of meetings) expect(swapped.some((w) => covers(b, a, w, m.tb, m.ta))).toBe(true);
          for (const w of swapped) expect(meetings.some((m) => covers(a, b, m, w.tb, w.ta))).toBe(true);
        }),
        runs,
      );
    },
  );

  test('of any two segments are the same seen from either, and run backward', () => {
    fc.assert(
      fc.property(segments(), segments(), (a, b) => {
        const meetings = intersectSegments(a, b);
        const swapped = intersectSegments(b, a);
        const backward = intersectSegments(reverseSegment(a), b);
        for (const m of meetings) {
          expect(swapped.some((w) => covers(b, a, w, m.tb, m.ta))).toBe(true);
          expect(backward.some((w) => distance(w.point, m.point) < 1e-2)).toBe(true);
        }
        for (const w of swapped) expect(meetings.some((m) => covers(a, b, m, w.tb, w.ta))).toBe(true);
      }),
      runs,
    );
  });

  test('of an outline with a path from its inside to far outside there is at least one', () => {
    fc.assert(
      fc.property(closedOutlines(), paths(3), fraction(), (outline, path, f) => {
        const box = pathBounds(outline);
        const inside = point(box.minX + f * (box.maxX - box.minX), (box.minY + box.maxY) / 2);
        fc.pre(containsPoint(outline, inside));
        const start = pathStart(path);
        const end = pathEnd(path);
        fc.pre(distance(start, end) > 1);
        // The path, moved to start inside and made long enough to end outside by a last straight line.
        const moved = path.map((s) =>
          moveSegment({ angle: 0, cos: 1, sin: 0, tx: inside.x - start.x, ty: inside.y - start.y }, s),
        );
        const out: Path = [...moved, { kind: 'line', start: pathEnd(moved), end: point(box.maxX + 5000, inside.y) }];
        expect(intersectPaths(outline, out).length).toBeGreaterThanOrEqual(1);
      }),
      runs,
    );
  });

  test('an outline or a drawn piece does not meet itself, moved or not; with two neighbouring corners swapped it does', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          closedOutlines(),
          pieceDrafts().map((d) => d.piece.edges.flatMap((e) => e.path)),
        ),
        rigidMoves(),
        (outline, move) => {
          expect(selfIntersections(outline)).toEqual([]);
          expect(selfIntersections(movePath(move, outline))).toEqual([]);
          expect(enclosedArea(outline)).toBeGreaterThan(0);
          const corners = outline.map((segment) => segment.start);
          const [p, q, ...rest] = corners as [(typeof corners)[0], (typeof corners)[0], ...typeof corners];
          const swapped = [q, p, ...rest] as NonNullable<typeof p>[];
          const crossed: Path = swapped.map((c, i) => ({
            kind: 'line',
            start: c,
            end: swapped[(i + 1) % swapped.length]!,
          }));
          if (swapped.length === 4) expect(selfIntersections(crossed).length).toBeGreaterThanOrEqual(1);
        },
      ),
      runs,
    );
  });
});

test('bounds hold every point, and no side can be moved in', () => {
  fc.assert(
    fc.property(segments(), fraction(), (segment, t) => {
      const box = segmentBounds(segment);
      const p = segmentPointAt(segment, t);
      expect(p.x).toBeGreaterThanOrEqual(box.minX - 1e-10);
      expect(p.x).toBeLessThanOrEqual(box.maxX + 1e-10);
      expect(p.y).toBeGreaterThanOrEqual(box.minY - 1e-10);
      expect(p.y).toBeLessThanOrEqual(box.maxY + 1e-10);
      // A level or upright line along each side touches the segment.
      const across = (x: number, y: number, dx: number, dy: number) =>
        intersectLineWithPath(point(x, y), point(dx, dy), [segment]);
      const inset = 1e-7;
      if (box.maxX - box.minX > 1e-3) {
        expect(across(box.minX + inset, 0, 0, 1).length).toBeGreaterThan(0);
        expect(across(box.maxX - inset, 0, 0, 1).length).toBeGreaterThan(0);
      }
      if (box.maxY - box.minY > 1e-3) {
        expect(across(0, box.minY + inset, 1, 0).length).toBeGreaterThan(0);
        expect(across(0, box.maxY - inset, 1, 0).length).toBeGreaterThan(0);
      }
    }),
    runs,
  );
});

test('turning adds up over parts, and changes sign with the direction', () => {
  fc.assert(
    fc.property(gentleCubics(), fraction(), (curve, t) => {
      const [head, tail] = splitSegment(curve, t);
      const whole = totalTurning([curve]);
      fc.pre(t > 0 && t < 1);
      expect(Math.abs(totalTurning([head, tail]) - whole)).toBeLessThan(1e-8);
      expect(Math.abs(totalTurning([reverseSegment(curve)]) + whole)).toBeLessThan(1e-12);
    }),
    runs,
  );
});

test('fitted cubics stay within the stated deviation of points on a curve, over five orders of magnitude', () => {
  fc.assert(
    fc.property(fc.oneof(gentleCubics(), wildCubics()), fc.integer({ min: -5, max: 0 }), (curve, exponent) => {
      const size = segmentLength(curve);
      fc.pre(size > 1);
      const allowed = 10 ** exponent;
      const dense = Array.from({ length: 41 }, (_, i) => segmentPointAt(curve, i / 40));
      const fitted = fitCubic(dense, unitTangentAt(curve, 0), unitTangentAt(curve, 1), allowed);
      fc.pre(fitted.length > 0);
      expect(fitted[0]!.start).toEqual(dense[0]);
      expect(fitted[fitted.length - 1]!.end).toEqual(dense[40]);
      for (const p of dense) expect(nearestOnPath(fitted, p).distance).toBeLessThanOrEqual(allowed + 1e-12);
      for (let i = 1; i < fitted.length; i++) expect(fitted[i]!.start).toEqual(fitted[i - 1]!.end);
    }),
    runs,
  );
});

test('an offset edge lies at the stated distance, within the stated accuracy, and moves with the edge', () => {
  fc.assert(
    fc.property(
      gentleCubics(),
      fc.constantFrom(1, -1),
      fraction(),
      fc.integer({ min: -4, max: -1 }),
      rigidMoves(),
      (curve, side, f, exponent, move) => {
        const accuracy = 10 ** exponent;
        let bend = 1e-6;
        for (let i = 0; i <= 32; i++) bend = Math.max(bend, side * curvatureAt(curve, i / 32));
        const d = side * Math.min(30, 0.9 / bend) * (0.05 + 0.95 * f);
        const result = offsetPath([curve], d, accuracy);
        for (const t of [0, 0.13, 0.31, 0.5, 0.72, 0.9, 1]) {
          const exact = add(segmentPointAt(curve, t), scale(quarterTurn(unitTangentAt(curve, t)), d));
          expect(nearestOnPath(result, exact).distance).toBeLessThanOrEqual(accuracy);
        }
        const there = movePath(move, result);
        for (const segment of offsetPath([moveSegment(move, curve)], d, accuracy)) {
          expect(nearestOnPath(there, segmentPointAt(segment, 0.4)).distance).toBeLessThanOrEqual(2 * accuracy);
        }
        expect(distance(movePoint(invert(move), pathStart(there)), pathStart(result))).toBeLessThan(1e-10);
      },
    ),
    runs,
  );
});
