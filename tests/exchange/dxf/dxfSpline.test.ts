import { parseString, toPolylines } from 'dxf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentLength } from '../../../src/geometry/arcLength';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { distance, type Point, point } from '../../../src/geometry/point';
import { segmentDerivativeAt, segmentPointAt, segmentSecondDerivativeAt } from '../../../src/geometry/segment';
import { endsMeet, samePoint } from '../../../src/geometry/tolerance';
import { dxf, pathsIn, read, readText } from './dxfFixture';

interface Spline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly Point[];
  readonly weights?: readonly number[];
}

/** A SPLINE entity; y upward as in the file. */
function written({ degree, knots, points, weights = [] }: Spline): string {
  return [
    '0 SPLINE\n8 a',
    `71 ${degree}\n72 ${knots.length}\n73 ${points.length}\n74 0`,
    ...knots.map((knot) => `40 ${knot}`),
    ...weights.map((weight) => `41 ${weight}`),
    ...points.map(({ x, y }) => `10 ${x}\n20 ${y}\n30 0`),
  ].join('\n');
}

/** Value of a basis function by the recursion of Cox and de Boor, the definition itself. */
function basis(knots: readonly number[], i: number, degree: number, u: number): number {
  if (degree === 0) return u >= knots[i]! && u < knots[i + 1]! ? 1 : 0;
  const [a, b, c, d] = [knots[i]!, knots[i + degree]!, knots[i + 1]!, knots[i + degree + 1]!];
  const rising = b > a ? ((u - a) / (b - a)) * basis(knots, i, degree - 1, u) : 0;
  const falling = d > c ? ((d - u) / (d - c)) * basis(knots, i + 1, degree - 1, u) : 0;
  return rising + falling;
}

/** The curve's point, y turned downward. */
function pointAt({ degree, knots, points, weights }: Spline, u: number): Point {
  let [x, y, w] = [0, 0, 0];
  points.forEach((p, i) => {
    const share = basis(knots, i, degree, u) * (weights?.[i] ?? 1);
    x += share * p.x;
    y += share * p.y;
    w += share;
  });
  return point(x / w, -y / w);
}

function farthest(spline: Spline, samples: number): number {
  const [path] = pathsIn(written(spline));
  const from = spline.knots[spline.degree]!;
  const to = spline.knots[spline.points.length]!;
  let worst = 0;
  for (let i = 0; i < samples; i++) {
    const p = pointAt(spline, from + ((to - from) * i) / samples);
    worst = Math.max(worst, nearestOnPath(path!, p).distance);
  }
  return worst;
}

const coordinate = fc.double({ min: -500, max: 500, noNaN: true });
const places = (least: number, most: number) =>
  fc.array(fc.record({ x: coordinate, y: coordinate }), { minLength: least, maxLength: most });

/** Knots that may repeat inside and be clamped, or not, at the ends. */
const splines = (degrees: readonly number[], rational: boolean) =>
  fc.constantFrom(...degrees).chain((degree) =>
    places(degree + 1, degree + 6).chain((points) =>
      fc
        .record({
          steps: fc.array(fc.constantFrom(0, 0.5, 1, 1, 2), { minLength: points.length, maxLength: points.length }),
          clamped: fc.boolean(),
          weights: fc.array(fc.double({ min: 0.3, max: 3, noNaN: true }), {
            minLength: points.length,
            maxLength: points.length,
          }),
        })
        .map(({ steps, clamped, weights }): Spline => {
          const knots: number[] = [];
          let at = 0;
          for (let i = 0; i < points.length + degree + 1; i++) {
            const inside = i > degree && i < points.length;
            const step = inside ? steps[i]! : i === degree + 1 || i === points.length ? 1 : clamped ? 0 : 1;
            // More than `degree` equal knots inside would tear the curve.
            const equal = knots.slice(-degree).every((knot) => knot === at) && knots.length >= degree;
            at += i === 0 ? 0 : inside && step === 0 && equal ? 1 : step;
            knots.push(at);
          }
          return rational ? { degree, knots, points, weights } : { degree, knots, points };
        }),
    ),
  );

function extentOf({ points }: Spline): number {
  return Math.max(...points.map((p) => distance(p, points[0]!)));
}

describe('splines of a DXF file', () => {
  it('of degree 1 to 3 with equal weights come out exactly (basis functions by definition)', () => {
    fc.assert(
      fc.property(splines([1, 2, 3], false), (spline) => {
        // Ends this near are taken for one, which moves the last point by as much.
        const [first, last] = [spline.knots[spline.degree]!, spline.knots[spline.points.length]!];
        const apart = distance(pointAt(spline, first), pointAt(spline, last - 1e-12 * (last - first)));
        fc.pre(apart > 2 * endsMeet * extentOf(spline));
        // The distance at which points count as one when the nearest is looked for, and as much for rounding.
        expect(farthest(spline, 60)).toBeLessThan(2 * samePoint);
      }),
      { numRuns: 300 },
    );
  });

  it('of higher degree or with weights stay within a thousandth of a mm on a metre', () => {
    fc.assert(
      fc.property(splines([2, 3, 4, 5, 7], true), (spline) => {
        const extent = extentOf(spline);
        fc.pre(extent > 1);
        expect(farthest(spline, 150)).toBeLessThan(1.001e-6 * extent);
      }),
      { numRuns: 100 },
    );
  });

  it('a rational quadratic of nine points is the circle it stands for (closed form)', () => {
    const h = Math.SQRT1_2;
    const points = [
      [1, 0],
      [1, 1],
      [0, 1],
      [-1, 1],
      [-1, 0],
      [-1, -1],
      [0, -1],
      [1, -1],
      [1, 0],
    ].map(([x, y]) => point(300 * x! + 40, 300 * y! - 7));
    const spline = {
      degree: 2,
      knots: [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
      points,
      weights: [1, h, 1, h, 1, h, 1, h, 1],
    };
    const [shape] = read(dxf(written(spline))).shapes;
    expect(shape!.closed).toBe(true);
    for (const segment of shape!.path) {
      for (let t = 0; t <= 1; t += 1 / 32) {
        expect(Math.abs(distance(segmentPointAt(segment, t), point(40, 7)) - 300)).toBeLessThan(3e-4);
      }
    }
    const length = shape!.path.reduce((sum, segment) => sum + segmentLength(segment), 0);
    expect(length).toBeCloseTo(600 * Math.PI, 3);
    expect(shape!.path.length).toBeLessThanOrEqual(32);
  });

  it('a cubic of one span is the Bezier curve of its own points', () => {
    const points = [point(0, 0), point(10, 90), point(120, 80), point(150, 0)];
    const [path] = pathsIn(written({ degree: 3, knots: [0, 0, 0, 0, 1, 1, 1, 1], points }));
    expect(path).toEqual([
      { kind: 'cubic', start: point(0, 0), control1: point(10, -90), control2: point(120, -80), end: point(150, 0) },
    ]);
  });

  it('lies where npm dxf 5.3.1 puts it, knots not clamped included', () => {
    const spline = {
      degree: 3,
      knots: [0, 1, 2, 3, 4, 5.5, 7, 8, 9, 10],
      points: [point(0, 0), point(80, -15), point(160, 60), point(240, 0), point(300, 140), point(320, 90)],
    };
    const text = dxf(written(spline));
    const [theirs] = toPolylines(parseString(text)).polylines;
    const [ours] = read(text).shapes;
    expect(theirs!.vertices.length).toBeGreaterThan(50);
    for (const [x, y] of theirs!.vertices) expect(nearestOnPath(ours!.path, point(x, -y)).distance).toBeLessThan(1e-7);
  });

  const through = (points: readonly (readonly [number, number])[], rest = '') =>
    `0 SPLINE\n8 a\n71 3\n72 0\n73 0\n74 ${points.length}\n${rest}\n${points.map(([x, y]) => `11 ${x}\n21 ${y}`).join('\n')}`;

  it('given only by points runs through them without a step in bend, and says so', () => {
    const points = [
      [0, 0],
      [40, 30],
      [90, 20],
      [130, 70],
      [200, 60],
    ] as const;
    const reading = read(dxf(through(points)));
    const path = reading.shapes[0]!.path;
    expect(path.map(({ start }) => start)).toEqual(points.slice(0, -1).map(([x, y]) => point(x, 0 - y)));
    expect(reading.warnings).toEqual([
      '1 curve is given only by points to run through; programs draw such curves a little differently between the points, so check it.',
    ]);
    const spans = path.map(({ start, end }) => distance(start, end));
    for (let i = 1; i < path.length; i++) {
      // The parameter runs as the chords do, so derivatives are compared over the lengths of the chords.
      const [a, b, ha, hb] = [path[i - 1]!, path[i]!, spans[i - 1]!, spans[i]!];
      const [va, vb] = [segmentDerivativeAt(a, 1), segmentDerivativeAt(b, 0)];
      const [ka, kb] = [segmentSecondDerivativeAt(a, 1), segmentSecondDerivativeAt(b, 0)];
      expect(distance(point(va.x / ha, va.y / ha), point(vb.x / hb, vb.y / hb))).toBeLessThan(1e-9);
      expect(distance(point(ka.x / ha ** 2, ka.y / ha ** 2), point(kb.x / hb ** 2, kb.y / hb ** 2))).toBeLessThan(1e-9);
    }
    expect(Math.hypot(...Object.values(segmentSecondDerivativeAt(path[0]!, 0)))).toBeLessThan(1e-6);
  });

  it('keeps the directions given at its ends', () => {
    const [path] = pathsIn(
      through(
        [
          [0, 0],
          [50, 50],
          [100, 0],
        ],
        '12 0\n22 1\n32 0\n13 0\n23 -1\n33 0',
      ),
    );
    expect(segmentDerivativeAt(path![0]!, 0).x).toBeCloseTo(0, 9);
    expect(segmentDerivativeAt(path!.at(-1)!, 1).x).toBeCloseTo(0, 9);
  });

  it('closed and given by points of a circle goes round smoothly', () => {
    const points = Array.from({ length: 24 }, (_, i): [number, number] => [
      100 * Math.cos((i * Math.PI) / 12),
      100 * Math.sin((i * Math.PI) / 12),
    ]);
    const [shape] = read(dxf(through(points, '70 1'))).shapes;
    expect(shape!.closed).toBe(true);
    for (const segment of shape!.path) {
      // The error of cubic interpolation: below 5/384 h^4 max|f''''|, h = 2 pi / 24.
      expect(Math.abs(distance(segmentPointAt(segment, 0.5), point(0, 0)) - 100)).toBeLessThan(
        (5 / 384) * (Math.PI / 12) ** 4 * 100,
      );
    }
    const first = segmentDerivativeAt(shape!.path[0]!, 0);
    const last = segmentDerivativeAt(shape!.path.at(-1)!, 1);
    expect(Math.abs(first.x * last.y - first.y * last.x)).toBeLessThan(1e-4);
  });

  it.each([
    ['knots that run backward', '71 1\n40 0\n40 0\n40 -1\n40 1\n40 1\n10 0\n20 0\n10 1\n20 1\n10 2\n20 0'],
    ['too few knots', '71 3\n40 0\n40 1\n10 0\n20 0\n10 1\n20 1\n10 2\n20 0\n10 3\n20 3'],
    ['a point that is no number', '71 1\n40 0\n40 0\n40 1\n40 1\n10 0\n20 0\n10 1e\n20 1'],
    ['a weight of nothing', '71 1\n40 0\n40 0\n40 1\n40 1\n41 1\n41 0\n10 0\n20 0\n10 1\n20 1'],
    ['degree 12', '71 12\n40 0\n10 0\n20 0'],
    ['nothing at all', '71 3'],
  ])('with %s is left out and counted', (_, inside) => {
    const outcome = readText(dxf(`0 SPLINE\n8 a\n${inside}`));
    expect(outcome).toMatchObject({ ok: false, code: 'dxf-no-lines' });
    expect(!outcome.ok && outcome.sentence).toContain('1 part with numbers that cannot be read was left out.');
  });
});
