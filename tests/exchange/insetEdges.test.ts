import { Clipper, EndType, JoinType } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcCubics } from '../../src/exchange/drawing/arc';
import type { OutlinePlace } from '../../src/exchange/edgeParts';
import { insetEdges } from '../../src/exchange/insetEdges';
import { enclosedArea } from '../../src/geometry/area';
import { flattenPath } from '../../src/geometry/flatten';
import { nearestOnPath } from '../../src/geometry/nearest';
import { endTangent, pathEnd, startTangent } from '../../src/geometry/path';
import { add, cross, distance, type Point, point, quarterTurn, scale, subtract } from '../../src/geometry/point';
import { cubic, line, type Path, segmentPointAt } from '../../src/geometry/segment';
import { defaultFinish, finish } from '../../src/operations/finish';
import type { Piece } from '../../src/pattern/piece';
import { sampleGarment } from '../gestures/tableDriver';
import { pieceDrafts } from '../support/arbitraries';
import { succeeded } from './svgFixture';

/** Corners at the start of every segment. */
const everySegment = (path: Path): OutlinePlace[] => path.map((_, segment) => ({ segment, t: 0 }));

/** Straight lines from point to point and back, counter-clockwise as seen on screen when given so. */
const polygon = (...points: readonly Point[]): Path => points.map((p, i) => line(p, points[(i + 1) % points.length]!));

const rectangle = polygon(point(0, 0), point(0, 300), point(200, 300), point(200, 0));

function circle(radius: number): Path {
  const h = (4 / 3) * Math.tan(Math.PI / 8) * radius;
  const at = (x: number, y: number) => point(x, y);
  return [
    cubic(at(radius, 0), at(radius, -h), at(h, -radius), at(0, -radius)),
    cubic(at(0, -radius), at(-h, -radius), at(-radius, -h), at(-radius, 0)),
    cubic(at(-radius, 0), at(-radius, h), at(-h, radius), at(0, radius)),
    cubic(at(0, radius), at(h, radius), at(radius, h), at(radius, 0)),
  ];
}

/** Largest distance from either line to the other, mm. */
function apart(a: Path, b: Path): number {
  const far = (from: Path, to: Path) =>
    Math.max(
      ...from.flatMap((segment) =>
        Array.from({ length: 17 }, (_, i) => nearestOnPath(to, segmentPointAt(segment, i / 16)).distance),
      ),
    );
  return Math.max(far(a, b), far(b, a));
}

/** Where the moved edges of a block meet: the crossing of the two straight lines beside the corner. */
function tip(piece: Piece, i: number, widths: readonly number[]): Point {
  const before = piece.edges.at(i - 1)!.path;
  const after = piece.edges[i]!.path;
  const [u, v] = [endTangent(before), startTangent(after)];
  const a = add(pathEnd(before), scale(quarterTurn(u), widths.at(i - 1)!));
  const b = add(after[0]!.start, scale(quarterTurn(v), widths[i]!));
  return add(a, scale(u, cross(subtract(b, a), v) / cross(u, v)));
}

/**
 * A piece with its allowances added by finishing and taken off again, its edges turned to where the cut line begins. Null
 * where finishing did not mitre every corner: squared off, stepped or crossed, it cannot be told from the piece's own lines.
 */
function thereAndBack(piece: Piece, widths: readonly number[]) {
  const byEdge = Object.fromEntries(piece.edges.map((edge, i) => [edge.id, widths[i]!]));
  const finished = finish(piece, { ...defaultFinish(), byEdge, mirrorHemEnds: false });
  if (!finished.ok) return null;
  const cut = finished.value.path;
  const segments = piece.edges.map((_edge, i) => {
    const at = tip(piece, i, widths);
    return cut.findIndex(({ start }) => distance(start, at) < 0.05);
  });
  if (segments.includes(-1)) return null;
  const first = segments.indexOf(Math.min(...segments));
  const turned = <T>(list: readonly T[]) => [...list.slice(first), ...list.slice(0, first)];
  const corners = turned(segments).map((segment) => ({ segment, t: 0 }));
  return { edges: turned(piece.edges), inset: insetEdges(cut, corners, turned(widths)) };
}

describe('the stitching line inside a cut line', () => {
  it('R32 a rectangle with four different allowances (closed form), corners in order', () => {
    const { path, corners, notes } = succeeded(insetEdges(rectangle, everySegment(rectangle), [10, 40, 15, 0]));
    expect(path).toEqual(polygon(point(10, 0), point(10, 260), point(185, 260), point(185, 0)));
    expect(corners).toEqual(everySegment(path));
    expect(notes).toEqual([expect.stringMatching(/^Each corner was rebuilt .* check the corner\.$/)]);
  });

  it('corners in the middle of a segment stay corners, an edge may have several segments', () => {
    const corners = [
      { segment: 0, t: 0.5 },
      { segment: 1, t: 0 },
      { segment: 2, t: 0 },
    ];
    const inset = succeeded(insetEdges(rectangle, corners, [10, 20, 10]));
    expect(inset.corners).toHaveLength(3);
    const at = inset.corners.map(({ segment }) => inset.path[segment]!.start);
    expect(at).toEqual([point(10, 150), point(10, 280), point(190, 280)]);
    expect(enclosedArea(inset.path)).toBeCloseTo(180 * 270, 6);
  });

  it('a circle loses its allowance from the radius (closed form)', () => {
    for (const width of [1, 15, 60]) {
      const { path } = succeeded(insetEdges(circle(100), everySegment(circle(100)), [width, width, width, width]));
      for (const p of flattenPath(path, 0.001)) {
        // The circle of four cubics is itself up to 2.7e-4 of its radius too large.
        expect(Math.hypot(p.x, p.y) - (100 - width)).toBeGreaterThan(-0.002);
        expect(Math.hypot(p.x, p.y) - (100 - width)).toBeLessThan(0.03);
      }
    }
  });

  it('no allowance at all gives the outline back as it is, without a word', () => {
    const { path, notes } = succeeded(insetEdges(circle(50), everySegment(circle(50)), [0, 0, 0, 0]));
    expect(path).toEqual(circle(50));
    expect(notes).toEqual([]);
  });

  it('at an inward corner the edges are carried on to meet (closed form)', () => {
    const outline = polygon(
      point(0, 0),
      point(0, 200),
      point(200, 200),
      point(200, 100),
      point(100, 100),
      point(100, 0),
    );
    const { path } = succeeded(insetEdges(outline, everySegment(outline), [5, 6, 7, 8, 9, 10]));
    expect(path).toEqual(
      polygon(point(5, 10), point(5, 194), point(193, 194), point(193, 108), point(91, 108), point(91, 10)),
    );
  });

  it.each([
    [100, 80, 10],
    [100, 60, 15],
    [200, 160, 15],
    [60, 40, 15],
  ])(
    'at an inward corner of two arcs of radius %i (centres %i from it, allowance %i) they bend on to where they meet (closed form)',
    (radius, half, width) => {
      // Two discs side by side are one piece: what is sewn and what is cut are circles about the same centres.
      const disc = (side: 1 | -1, r: number): Path => {
        const corner = Math.atan2(Math.sqrt(r * r - half * half), -half);
        const at = (angle: number) => point(side * (half + r * Math.cos(angle)), side * r * Math.sin(angle));
        const arc = {
          centre: point(side * half, 0),
          axisX: point(side * r, 0),
          axisY: point(0, side * r),
          from: corner,
        };
        return arcCubics({ ...arc, sweep: -2 * corner }, at(corner), at(-corner));
      };
      const cut = [...disc(1, radius + width), ...disc(-1, radius + width)];
      const corners = [0, cut.length / 2].map((segment) => ({ segment, t: 0 }));
      const inset = succeeded(insetEdges(cut, corners, [width, width]));
      expect(apart(inset.path, [...disc(1, radius), ...disc(-1, radius)])).toBeLessThan(0.005);
      const corner = inset.path[inset.corners[0]!.segment]!.start;
      expect(distance(corner, point(0, Math.sqrt(radius * radius - half * half)))).toBeLessThan(0.005);
    },
  );

  describe('refuses, with the number of the edge', () => {
    const refusal = (outline: Path, widths: readonly number[]) => {
      const outcome = insetEdges(outline, everySegment(outline), widths);
      if (outcome.ok) throw new Error('was not refused');
      expect(outcome.sentence).toMatch(/^[A-Z].*\.$/);
      return outcome;
    };

    it('widths that make no sense', () => {
      for (const width of [-1, Number.NaN, 501]) {
        const { code, sentence } = refusal(rectangle, [10, width, 10, 10]);
        expect(code).toBe('allowance-unusable');
        expect(sentence).toContain('edge 2');
      }
      expect(refusal(rectangle, [1, 2, 3]).code).toBe('allowance-unusable');
    });

    it('a bend with no room for its allowance', () => {
      const { code, sentence } = refusal(circle(14), [15, 0, 0, 0]);
      expect(code).toBe('inset-wider-than-bend');
      expect(sentence).toMatch(/Edge 1 bends with a radius of 1[34]\.\d mm/);
    });

    it('R32 a short edge that its neighbours leave nothing of', () => {
      // A corner cut off by 10 mm: moved inward by 30 the two long edges meet before the short one begins.
      const cut = polygon(point(0, 0), point(0, 290), point(10, 300), point(200, 300), point(200, 0));
      const { code, sentence } = refusal(cut, [30, 0, 30, 30, 30]);
      expect(code).toBe('inset-swallows-edge');
      expect(sentence).toContain('edge 2');
    });

    it('allowances wider than the piece', () => {
      expect(refusal(rectangle, [120, 10, 120, 10]).code).toMatch(/^inset-(swallows-edge|crosses-itself)$/);
      expect(refusal(rectangle, [250, 10, 10, 10]).code).toMatch(/^inset-(swallows-edge|crosses-itself)$/);
    });

    it('a waist the allowances close', () => {
      // Two wide ends joined by a neck of 20 mm, drawn as curves so that no edge is short.
      const neck: Path = [
        line(point(0, 0), point(0, 200)),
        cubic(point(0, 200), point(100, 200), point(100, 110), point(200, 110)),
        cubic(point(200, 110), point(300, 110), point(300, 200), point(400, 200)),
        line(point(400, 200), point(400, 0)),
        cubic(point(400, 0), point(300, 0), point(300, 90), point(200, 90)),
        cubic(point(200, 90), point(100, 90), point(100, 0), point(0, 0)),
      ];
      const corners = [0, 1, 3, 4].map((segment) => ({ segment, t: 0 }));
      expect(insetEdges(neck, corners, [5, 5, 5, 5]).ok).toBe(true);
      expect(insetEdges(neck, corners, [5, 12, 5, 12])).toMatchObject({ ok: false, code: 'inset-crosses-itself' });
    });

    it('edges that run on into each other with different allowances', () => {
      const split = [line(point(0, 0), point(0, 150)), line(point(0, 150), point(0, 300)), ...rectangle.slice(1)];
      const { code, sentence } = refusal(split, [10, 20, 10, 10, 10]);
      expect(code).toBe('inset-edges-apart');
      expect(sentence).toMatch(/^Edges 1 and 2 /);
      expect(insetEdges(split, everySegment(split), [10, 10, 10, 10, 10]).ok).toBe(true);
    });
  });

  it('points to corners that lie far inside a sharp tip', () => {
    const sharp = polygon(point(0, 0), point(0, 60), point(400, 30));
    const { notes } = succeeded(insetEdges(sharp, everySegment(sharp), [5, 5, 5]));
    expect(notes[1]).toMatch(/^Corner 3 lies far inside/);
  });

  const blocks = (['sleeveless-top', 'straight-skirt'] as const).flatMap((name) => sampleGarment(name).blocks);
  // Widths whose corners finishing mitres: it steps out where a wide allowance meets a much narrower one bluntly, which
  // cannot be told from an edge of the piece afterwards.
  const sets = [
    [15, 15, 15, 15, 15, 15, 15, 15],
    [10, 25, 12, 40, 6, 15, 20, 8],
    [0, 15, 10, 8, 20, 6, 0, 12],
    [40, 12, 15, 10, 10, 25, 15, 15],
  ];
  const cases = blocks.flatMap((block) =>
    sets.map((set, i): [string, number, Piece, number[]] => {
      const widths = block.edges.map((edge, k) => (edge.id === block.fold ? 0 : set[k]!));
      return [block.name, i + 1, block, widths];
    }),
  );

  it.each(cases)(
    '%s, allowances of set %i: added by finishing and taken off again it is the block',
    (_, __, block, widths) => {
      const back = thereAndBack(block, widths);
      if (!back) throw new Error('a corner is not mitred');
      const inset = succeeded(back.inset);
      expect(
        apart(
          inset.path,
          block.edges.flatMap(({ path }) => path),
        ),
      ).toBeLessThan(0.01);
      back.edges.forEach(({ path }, i) => {
        const corner = inset.path[inset.corners[i]!.segment]!.start;
        expect(distance(corner, path[0]!.start)).toBeLessThan(0.01);
      });
    },
  );

  it('so it is with random pieces of straight and curved edges', () => {
    let tried = 0;
    fc.assert(
      fc.property(
        pieceDrafts(),
        fc.array(fc.double({ min: 4, max: 20, noNaN: true }), { minLength: 12, maxLength: 12 }),
        ({ piece }, all) => {
          const widths = piece.edges.map((edge, i) => (edge.id === piece.fold ? 0 : all[i]!));
          const back = thereAndBack(piece, widths);
          if (!back) return;
          tried++;
          const inset = succeeded(back.inset);
          expect(
            apart(
              inset.path,
              piece.edges.flatMap(({ path }) => path),
            ),
          ).toBeLessThan(0.01);
        },
      ),
      { numRuns: 60 },
    );
    expect(tried).toBeGreaterThan(40);
  });

  const angles = fc.array(fc.double({ min: 0.35, max: 1, noNaN: true }), { minLength: 3, maxLength: 7 });
  /** Polygons round a circle of 200 mm: always simple, corners outward, no edge shorter than the widths need. */
  const rounds = angles.map((steps) => {
    const whole = steps.reduce((sum, step) => sum + step, 0);
    let at = 0;
    const points = steps.map((step) => {
      at -= (step / whole) * 2 * Math.PI;
      return point(200 * Math.cos(at), 200 * Math.sin(at));
    });
    return polygon(...points);
  });
  const stars = rounds.map((path) =>
    polygon(...path.flatMap(({ start, end }) => [start, scale(add(start, end), 0.42)])),
  );

  it.each([
    ['outward corners only', rounds],
    ['outward and inward corners', stars],
  ])('equal allowances agree with clipper2 (mitred, independent): %s', (_, shapes) => {
    let tried = 0;
    fc.assert(
      fc.property(shapes, fc.double({ min: 0.5, max: 12, noNaN: true }), (path, width) => {
        const outcome = insetEdges(
          path,
          everySegment(path),
          path.map(() => width),
        );
        const rings = Clipper.inflatePathsD(
          [path.map(({ start }) => ({ x: start.x, y: start.y }))],
          enclosedArea(path) > 0 ? -width : width,
          JoinType.Miter,
          EndType.Polygon,
          1000,
          6,
        );
        const area = rings.reduce((sum, ring) => sum + Math.abs(Clipper.areaD(ring)), 0);
        if (!outcome.ok) return;
        tried++;
        expect(rings).toHaveLength(1);
        expect(enclosedArea(outcome.value.path)).toBeCloseTo(area, 1);
      }),
      { numRuns: 300 },
    );
    expect(tried).toBeGreaterThan(200);
  });

  it('every point of the result lies its allowance or more inside, and each edge exactly so', () => {
    let tried = 0;
    fc.assert(
      fc.property(
        rounds,
        fc.array(fc.oneof(fc.constant(0), fc.double({ min: 0.5, max: 20, noNaN: true })), {
          minLength: 7,
          maxLength: 7,
        }),
        (path, all) => {
          const widths = path.map((_, i) => all[i]!);
          const outcome = insetEdges(path, everySegment(path), widths);
          if (!outcome.ok) return;
          tried++;
          outcome.value.path.forEach(({ start, end }, i) => {
            for (const [k, { start: a, end: b }] of path.entries()) {
              const normal = quarterTurn(scale(subtract(b, a), 1 / distance(a, b)));
              for (const p of [start, end]) {
                const inside = -(normal.x * (p.x - a.x) + normal.y * (p.y - a.y));
                if (k === i) expect(Math.abs(inside - widths[k]!)).toBeLessThan(1e-6);
                else expect(inside).toBeGreaterThan(widths[k]! - 1e-6);
              }
            }
          });
        },
      ),
      { numRuns: 300 },
    );
    expect(tried).toBeGreaterThan(200);
  });
});
