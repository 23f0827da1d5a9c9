import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { segmentLength, segmentLengthBetween, segmentParameterAtLength } from '../../src/geometry/arcLength';
import { gaussLegendre } from '../../src/geometry/gaussLegendre';
import { distance, mix, type Point, point } from '../../src/geometry/point';
import { moveSegment, turnAbout } from '../../src/geometry/rigidMove';
import {
  type CubicSegment,
  cubic,
  line,
  reverseSegment,
  segmentPointAt,
  splitSegment,
} from '../../src/geometry/segment';
import { gentleCubics, wildCubics } from '../support/arbitraries';
import { bezierLength } from '../support/bezierJs';
import { paperLength } from '../support/paperCurves';

/** A quadratic curve raised to a cubic, exactly the same points. */
function raised(a: Point, b: Point, c: Point): CubicSegment {
  return cubic(a, mix(a, b, 2 / 3), mix(c, b, 2 / 3), c);
}

/** y = x^2 / (2 p) from x = 0 to x = w, scaled in mm; its length has a closed form (any table of integrals). */
function parabola(w: number, p: number): { curve: CubicSegment; length: number } {
  const u = w / p;
  return {
    curve: raised(point(0, 0), point(w / 2, 0), point(w, (w * w) / (2 * p))),
    length: (p / 2) * (u * Math.sqrt(1 + u * u) + Math.asinh(u)),
  };
}

/** The curve (size t^2, size t^3) for t from a to b: a cubic with a true cusp at t = 0. Neile's semicubical parabola,
 * whose length was the first of any algebraic curve to be found (1657): (size / 27) ((4 + 9 t^2)^(3/2) - 8). */
function semicubical(a: number, b: number, size: number): { curve: CubicSegment; length: number } {
  const h = (b - a) / 3;
  const at = (t: number) => point(size * t * t, size * t * t * t);
  const handle = (t: number, step: number) => point(at(t).x + step * size * 2 * t, at(t).y + step * size * 3 * t * t);
  const fromCusp = (t: number) => (size / 27) * ((4 + 9 * t * t) ** 1.5 - 8);
  return { curve: cubic(at(a), handle(a, h), handle(b, -h), at(b)), length: fromCusp(a) + fromCusp(b) };
}

/** A cubic whose speed is the polynomial u^2 + v^2 with u, v linear (R. T. Farouki, T. Sakkalis, Pythagorean
 * hodographs, 1990), so that its length is a rational number of its coefficients. */
function pythagorean(u0: number, u1: number, v0: number, v1: number): { curve: CubicSegment; length: number } {
  // Hodograph (u^2 - v^2, 2uv) with Bernstein values u0, u1 and v0, v1.
  const d0 = point(u0 * u0 - v0 * v0, 2 * u0 * v0);
  const d1 = point(u0 * u1 - v0 * v1, u0 * v1 + u1 * v0);
  const d2 = point(u1 * u1 - v1 * v1, 2 * u1 * v1);
  const step = (p: Point, d: Point) => point(p.x + d.x / 3, p.y + d.y / 3);
  const p1 = step(point(0, 0), d0);
  const p2 = step(p1, d1);
  const length = (u0 * u0 + u0 * u1 + u1 * u1 + v0 * v0 + v0 * v1 + v1 * v1) / 3;
  return { curve: cubic(point(0, 0), p1, p2, step(p2, d2)), length };
}

/** Bounds by halving: chords are no longer and control polygons no shorter than the curve (J. Gravesen, 1997). */
function lengthByHalving(c: CubicSegment, halvings: number): { low: number; high: number } {
  if (halvings === 0) {
    return {
      low: distance(c.start, c.end),
      high: distance(c.start, c.control1) + distance(c.control1, c.control2) + distance(c.control2, c.end),
    };
  }
  const [head, tail] = splitSegment(c, 0.5) as [CubicSegment, CubicSegment];
  const a = lengthByHalving(head, halvings - 1);
  const b = lengthByHalving(tail, halvings - 1);
  return { low: a.low + b.low, high: a.high + b.high };
}

const accuracies = [1e-2, 1e-4, 1e-6, 1e-8, 1e-9, 1e-10, 1e-11];

describe('the quadrature rule', () => {
  test('five points match the published table (Abramowitz and Stegun, 25.4)', () => {
    const { nodes, weights } = gaussLegendre(5);
    const published = [-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664];
    const publishedWeights = [
      0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189,
    ];
    published.forEach((x, i) => {
      expect(2 * nodes[i]! - 1).toBeCloseTo(x, 14);
      expect(2 * weights[i]!).toBeCloseTo(publishedWeights[i]!, 14);
    });
  });

  test.each([1, 2, 3, 8, 12, 20, 32])('%i points are exact for polynomials of degree 2n - 1', (count) => {
    const { nodes, weights } = gaussLegendre(count);
    for (let power = 0; power < 2 * count; power++) {
      const sum = nodes.reduce((total, x, i) => total + weights[i]! * x ** power, 0);
      expect(Math.abs(sum - 1 / (power + 1))).toBeLessThan(1e-15 * count);
    }
  });
});

describe('length against closed forms', () => {
  test('a line', () => {
    expect(segmentLength(line(point(1, 2), point(4, 6)))).toBe(5);
  });

  test('a straight cubic, its control points in order, is its chord', () => {
    const straight = cubic(point(0, 0), point(30, 40), point(30, 40), point(300, 400));
    expect(Math.abs(segmentLength(straight) - 500)).toBeLessThan(1e-9);
  });

  test('a straight cubic that runs back on itself is its runs added', () => {
    // x = 3 (1-t)^2 t 200 - 3 (1-t) t^2 100 + t^3 100: turning points from x' = 0.
    const folded = cubic(point(0, 0), point(200, 0), point(-100, 0), point(100, 0));
    const x = (t: number) => segmentPointAt(folded, t).x;
    // x' = 3 (200 - 1000 t + 1000 t^2)
    const t1 = (1 - Math.sqrt(0.2)) / 2;
    const t2 = (1 + Math.sqrt(0.2)) / 2;
    const exact = x(t1) + (x(t1) - x(t2)) + (100 - x(t2));
    expect(Math.abs(segmentLength(folded) - exact)).toBeLessThan(1e-9);
  });

  test.each([
    [100, 400],
    [300, 150],
    [250, 20],
    [500, 1],
    [0.5, 2],
  ])('a parabola %f wide with p = %f, at every stated accuracy', (w, p) => {
    const { curve, length } = parabola(w, p);
    for (const accuracy of accuracies) {
      expect(Math.abs(segmentLength(curve, accuracy) - length)).toBeLessThanOrEqual(accuracy + 4e-16 * length);
    }
  });

  test.each([
    [-1, 1],
    [-0.3, 1],
    [-1e-3, 1],
    [-0.77, 0.5],
    [0, 1],
  ])('a curve with a true cusp (t from %f to %f), at every stated accuracy', (a, b) => {
    const { curve, length } = semicubical(a, b, 200);
    for (const accuracy of accuracies) {
      expect(Math.abs(segmentLength(curve, accuracy) - length)).toBeLessThanOrEqual(accuracy + 2e-15 * length);
    }
  });

  test('near-cusps of known length (Pythagorean hodographs), from 1 down to 1e-9 of the cusp', () => {
    for (const near of [1, 0.1, 1e-2, 1e-3, 1e-4, 1e-6, 1e-9]) {
      const { curve, length } = pythagorean(-14, 11, 14 * near, 13 * near);
      expect(Math.abs(segmentLength(curve) - length)).toBeLessThan(1e-9);
    }
  });
});

describe('length against other methods', () => {
  test('near-cusps without a closed form lie between chords and control polygons of 2^16 parts', () => {
    for (const off of [0, 1e-9, 1e-6, 1e-4, 1e-2, 1, 10, -1e-4, -1]) {
      const c = cubic(point(0, 0), point(100 + off, 100), point(0, 100), point(100, 0));
      const { low, high } = lengthByHalving(c, 16);
      const length = segmentLength(c);
      expect(length).toBeGreaterThan(low - 1e-9);
      expect(length).toBeLessThan(high + 1e-9);
      expect(high - low).toBeLessThan(2e-7);
    }
  });

  test('300 ordinary curves agree with bezier-js to 1e-9 mm and with paper to 1e-5 mm', () => {
    for (const c of fc.sample(gentleCubics(), { numRuns: 300, seed: 1 })) {
      const length = segmentLength(c);
      expect(Math.abs(length - bezierLength(c))).toBeLessThan(1e-9);
      expect(Math.abs(length - paperLength(c))).toBeLessThan(1e-5);
    }
  });
});

test('folds, double points and broken numbers are answered at once', () => {
  // A line run forward, back and forward again, turned so that no coordinate is exact.
  const fold = cubic(
    point(-731.027, 174.608),
    point(1644.731, 274.868),
    point(-1522.946, 141.187),
    point(852.811, 241.448),
  );
  const folded = segmentLength(fold);
  expect(folded).toBeGreaterThan(distance(fold.start, fold.end));
  for (const t of [0.1, 0.3, 0.57, 0.9]) {
    const parts = segmentLengthBetween(fold, 0, t, 1e-12) + segmentLengthBetween(fold, t, 1, 1e-12);
    expect(Math.abs(parts - folded)).toBeLessThan(1e-9);
  }
  expect(segmentLength(cubic(point(5, 5), point(5, 5), point(5, 5), point(5, 5)))).toBe(0);
  expect(segmentLength(cubic(point(0, 0), point(Number.NaN, 0), point(5, 5), point(9, 9)))).toBeNaN();
});

test('an accuracy finer than rounding is answered at once, with what rounding allows', () => {
  for (const c of fc.sample(wildCubics(), { numRuns: 400, seed: 5 })) {
    const length = segmentLength(c);
    for (const accuracy of [1e-12, 1e-13, 1e-15]) {
      expect(Math.abs(segmentLength(c, accuracy) - length)).toBeLessThan(1e-9);
    }
  }
});

describe('parameter at a length', () => {
  test('run back through the length it gives the length again, within the accuracy', () => {
    const curves = [
      ...fc.sample(gentleCubics(), { numRuns: 60, seed: 2 }),
      parabola(250, 20).curve,
      semicubical(-0.3, 1, 200).curve,
      pythagorean(-14, 11, 0.014, 0.013).curve,
    ];
    for (const c of curves) {
      const whole = segmentLength(c);
      for (const part of [0.001, 0.1, 0.25, 0.5, 0.77, 0.999]) {
        for (const accuracy of [1e-3, 1e-6, 1e-9]) {
          const t = segmentParameterAtLength(c, part * whole, accuracy);
          expect(Math.abs(segmentLengthBetween(c, 0, t, 1e-11) - part * whole)).toBeLessThanOrEqual(accuracy);
        }
      }
    }
  });

  test('is found on either side of a cusp and at it', () => {
    const { curve, length } = semicubical(-1, 1, 100);
    expect(Math.abs(segmentParameterAtLength(curve, length / 2) - 0.5)).toBeLessThan(1e-5);
    for (const off of [-1e-6, 1e-6, -1e-3, 1e-3]) {
      const t = segmentParameterAtLength(curve, length / 2 + off);
      expect(Math.abs(segmentLengthBetween(curve, 0, t) - length / 2 - off)).toBeLessThan(2e-9);
    }
  });

  test('stays at the ends outside the curve', () => {
    const { curve, length } = parabola(100, 50);
    expect(segmentParameterAtLength(curve, -1)).toBe(0);
    expect(segmentParameterAtLength(curve, 0)).toBe(0);
    expect(segmentParameterAtLength(curve, length + 1)).toBe(1);
    expect(segmentParameterAtLength(line(point(0, 0), point(10, 0)), 2.5)).toBe(0.25);
    expect(segmentParameterAtLength(line(point(3, 3), point(3, 3)), 1)).toBe(1);
  });
});

test('length between parameters is signed and adds up', () => {
  const { curve } = semicubical(-0.4, 0.9, 150);
  expect(segmentLengthBetween(curve, 0.7, 0.2)).toBe(-segmentLengthBetween(curve, 0.2, 0.7));
  const parts = segmentLengthBetween(curve, 0, 0.3) + segmentLengthBetween(curve, 0.3, 1);
  expect(Math.abs(parts - segmentLength(curve))).toBeLessThan(3e-9);
  expect(segmentLengthBetween(line(point(0, 0), point(0, 8)), 0.25, 0.75)).toBe(4);
});

test('length does not depend on where the curve lies, how it is turned, or which way it runs', () => {
  const { curve, length } = semicubical(-0.6, 1, 120);
  for (const angle of [0.3, 1.7, -2.9]) {
    const moved = moveSegment(turnAbout(point(700, -400), angle), curve);
    expect(Math.abs(segmentLength(moved) - length)).toBeLessThan(2e-9);
  }
  expect(Math.abs(segmentLength(reverseSegment(curve)) - length)).toBeLessThan(2e-9);
});
