import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { invertHomography, mapPoint, quadToRectangle, squareToQuad } from '../../../src/exchange/photo/homography';
import type { Homography, Quad } from '../../../src/exchange/photo/pictureView';
import { applyLens, toPicture, toTable, undoLens } from '../../../src/exchange/photo/viewPoint';
import { distance, type Point } from '../../../src/geometry/point';
import { type OpenCv, openCv } from '../../support/photo/openCv';
import { framed, seenAt, tableAt, viewOf } from '../../support/photo/pinhole';

/** A square of 100 to 3000 dots with every corner moved by up to a fifth of its side: convex, and as skew as a hand holds. */
const quads = fc
  .tuple(
    fc.double({ min: 100, max: 3000, noNaN: true }),
    fc.array(fc.double({ min: -0.2, max: 0.2, noNaN: true }), { minLength: 8, maxLength: 8 }),
    fc.double({ min: 0, max: 1000, noNaN: true }),
  )
  .map(([side, off, shift]): Quad => {
    const at = (x: number, y: number, i: number): Point => ({
      x: Math.fround(shift + side * (x + off[2 * i]!)),
      y: Math.fround(shift / 2 + side * (y + off[2 * i + 1]!)),
    });
    return [at(0, 0, 0), at(1, 0, 1), at(1, 1, 2), at(0, 1, 3)];
  });

describe('homography', () => {
  let cv: OpenCv;
  beforeAll(async () => {
    cv = await openCv();
  });

  const rectangle = (width: number, height: number): Quad => [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];

  // OpenCV solves unscaled equations and misses its own four corners by up to some 1e-4; ours by 1e-9 (below).
  it('from four places agrees with OpenCV 4.11 (getPerspectiveTransform), there and back', () => {
    fc.assert(
      fc.property(quads, (quad) => {
        const ours = quadToRectangle(quad, 210, 297);
        const theirs = cv.fromFour(quad, rectangle(210, 297)) as unknown as Homography;
        const back = cv.fromFour(rectangle(210, 297), quad) as unknown as Homography;
        const square = squareToQuad(quad);
        const middle = mapPoint(square, { x: 0.3, y: 0.6 });
        for (const p of [...quad, middle]) {
          const q = mapPoint(ours, p);
          expect(distance(q, mapPoint(theirs, p))).toBeLessThan(1e-3);
          expect(distance(mapPoint(square, { x: q.x / 210, y: q.y / 297 }), mapPoint(back, q))).toBeLessThan(1e-3);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('agrees with a least-squares homography through nine places (OpenCV findHomography, which rounds 3,000 dots to 2e-4)', () => {
    fc.assert(
      fc.property(quads, (quad) => {
        const ours = quadToRectangle(quad, 210, 297);
        const back = invertHomography(ours);
        const onTable = [0, 105, 210].flatMap((x) => [0, 148.5, 297].map((y) => ({ x, y })));
        const seen = onTable.map((q) => mapPoint(back, q));
        const theirs = cv.fromMany(seen, onTable) as unknown as Homography;
        for (const p of seen) expect(distance(mapPoint(ours, p), mapPoint(theirs, p))).toBeLessThan(3e-4);
      }),
      { numRuns: 100 },
    );
  });

  it('brings the corners to the corners, and every place back', () => {
    fc.assert(
      fc.property(quads, fc.double({ min: 0, max: 210, noNaN: true }), (quad, x) => {
        const h = quadToRectangle(quad, 210, 297);
        for (const [i, corner] of rectangle(210, 297).entries()) {
          expect(distance(mapPoint(h, quad[i]!), corner)).toBeLessThan(1e-9);
        }
        const p = { x, y: 100 };
        expect(distance(mapPoint(h, mapPoint(invertHomography(h), p)), p)).toBeLessThan(1e-9);
      }),
    );
  });
});

describe('a view of a table', () => {
  const cameras = fc.record({
    tilt: fc.double({ min: 0, max: 0.61, noNaN: true }),
    tiltTowards: fc.double({ min: 0, max: 6.28, noNaN: true }),
    roll: fc.double({ min: -3.1, max: 3.1, noNaN: true }),
    lens: fc.double({ min: -0.1, max: 0.1, noNaN: true }),
  });
  const room = [
    { x: 0, y: 0 },
    { x: 700, y: 0 },
    { x: 700, y: 350 },
    { x: 0, y: 350 },
  ];

  it('is that of a pinhole camera written from its definition, tilted to 35 degrees, with a lens', () => {
    fc.assert(
      fc.property(
        cameras,
        fc.double({ min: 0, max: 4000, noNaN: true }),
        fc.double({ min: 0, max: 3000, noNaN: true }),
        (camera, x, y) => {
          const view = viewOf(framed({ width: 4000, height: 3000, focal: 3000, ...camera }, room));
          const there = toTable(view, { x, y });
          expect(distance(there, tableAt(view, x, y))).toBeLessThan(1e-9 * (1 + Math.abs(there.x) + Math.abs(there.y)));
          expect(distance(toPicture(view, there), { x, y })).toBeLessThan(1e-7);
          expect(distance(toPicture(view, there), seenAt(view, there))).toBeLessThan(1e-7);
        },
      ),
    );
  });

  it('undoes a lens and applies it again to 1e-9 of a dot, also where it pulls lines inward', () => {
    for (const lens of [-0.2, -0.03, 0, 0.05, 0.3]) {
      const frame = { width: 4000, height: 3000, lens };
      for (const p of [
        { x: 2000, y: 1500 },
        { x: 0, y: 0 },
        { x: 3999, y: 12 },
        { x: 2300, y: 2999 },
      ]) {
        expect(distance(applyLens(frame, undoLens(frame, p)), p)).toBeLessThan(1e-9);
      }
    }
  });

  it('has no place on the table above the horizon, and shows none from behind the camera', () => {
    const view = viewOf({
      width: 400,
      height: 300,
      focal: 300,
      aim: { x: 0, y: 0 },
      distance: 500,
      tilt: 1.3,
      tiltTowards: Math.PI / 2,
      roll: 0,
      lens: 0,
    });
    expect(toTable(view, { x: 200, y: 2 }).x).toBeNaN();
    expect(Number.isFinite(toTable(view, { x: 200, y: 290 }).y)).toBe(true);
    expect(toPicture(view, { x: 0, y: 5000 }).x).toBeNaN();
  });
});
