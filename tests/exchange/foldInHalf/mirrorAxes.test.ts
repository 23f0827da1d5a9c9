import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaMoments } from '../../../src/exchange/foldInHalf/areaMoments';
import { findMirrorAxes } from '../../../src/exchange/foldInHalf/mirrorAxes';
import { flattenPath } from '../../../src/geometry/flatten';
import { sideOf } from '../../../src/geometry/mirror';
import { cross } from '../../../src/geometry/point';
import { compose, movePath, movePoint, moveVector, shiftBy, turnAbout } from '../../../src/geometry/rigidMove';
import { line, type Path } from '../../../src/geometry/segment';
import { upright, wholeFront } from './wholePieces';

const anyMove = fc
  .tuple(
    fc.double({ min: -3.2, max: 3.2, noNaN: true }),
    fc.integer({ min: -900, max: 900 }),
    fc.integer({ min: -900, max: 900 }),
  )
  .map(([angle, x, y]) => compose(shiftBy({ x, y }), turnAbout({ x: 30, y: 200 }, angle)));

const polygon = (points: readonly (readonly [number, number])[]): Path =>
  points.map(([x, y], i) => {
    const [nx, ny] = points[(i + 1) % points.length]!;
    return line({ x, y }, { x: nx, y: ny });
  });

describe('the mirror axis of an outline', () => {
  it('R34 is the one it was made with, however it lies, to 1e-9 rad and 1e-6 mm', () => {
    fc.assert(
      fc.property(anyMove, (move) => {
        const [best] = findMirrorAxes(movePath(move, wholeFront));
        const along = moveVector(move, upright.along);
        expect(Math.abs(cross(best!.mirror.along, along))).toBeLessThan(1e-9);
        expect(Math.abs(sideOf(best!.mirror, movePoint(move, { x: 0, y: 0 })))).toBeLessThan(1e-6);
        expect(best!.apart).toBeLessThan(1e-6);
      }),
      { numRuns: 25 },
    );
  });

  it('R34 runs through the centre of area along a principal axis, as a closed form has them', () => {
    // Isosceles triangle, base 200, height 300, by arithmetic: the centre of area is a third of the height above the base.
    const triangle = polygon([
      [0, 0],
      [-100, 300],
      [100, 300],
    ]);
    const { centre, angle } = areaMoments(triangle);
    expect(centre.x).toBeCloseTo(0, 12);
    expect(centre.y).toBeCloseTo(200, 9);
    expect(Math.abs(Math.cos(angle))).toBeLessThan(1e-9);
    const [best] = findMirrorAxes(triangle);
    expect(Math.abs(sideOf(best!.mirror, centre))).toBeLessThan(1e-9);
    expect(Math.abs(best!.mirror.along.x)).toBeLessThan(1e-9);
  });

  it('R34 is offered for every way a rectangle, and a square, can be folded', () => {
    const rectangle = polygon([
      [0, 0],
      [0, 60],
      [200, 60],
      [200, 0],
    ]);
    expect(directions(rectangle)).toEqual([0, 90]);
    const square = polygon([
      [0, 0],
      [0, 90],
      [90, 90],
      [90, 0],
    ]);
    expect(directions(square)).toEqual([0, 45, 90, 135]);
  });

  it('R34 of an outline whose points are unsure by 0.3 mm is off by less than 0.001 rad and 0.15 mm', () => {
    // Least squares: about 0.3 / sqrt(points) mm across and that over the half height in angle; a bound five times as wide.
    const chain = flattenPath(wholeFront, 0.02).slice(0, -1);
    const unsure = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: 2 * chain.length,
      maxLength: 2 * chain.length,
    });
    fc.assert(
      fc.property(unsure, (shares) => {
        // Evenly spread between plus and minus 0.3 times the root of 3: a standard deviation of 0.3 mm.
        const by = (i: number) => 0.3 * Math.sqrt(3) * shares[i]!;
        const noisy = polygon(chain.map(({ x, y }, i) => [x + by(2 * i), y + by(2 * i + 1)] as const));
        const [best] = findMirrorAxes(noisy);
        expect(Math.abs(best!.mirror.along.x)).toBeLessThan(0.001);
        expect(Math.abs(sideOf(best!.mirror, { x: 0, y: 250 }))).toBeLessThan(0.15);
      }),
      { numRuns: 4 },
    );
  });

  it('R34 is not tilted by something that only one side has, and says how far and where the sides are apart', () => {
    // An extension of 25 mm along 60 mm of the left side seam, square at its ends.
    const chain = flattenPath(wholeFront, 0.02).slice(0, -1);
    const extended = chain.map(({ x, y }) => [x < -180 && y > 300 && y < 360 ? x - 25 : x, y] as const);
    const [best] = findMirrorAxes(polygon(extended));
    expect(Math.abs(best!.mirror.along.x)).toBeLessThan(0.0005);
    expect(Math.abs(sideOf(best!.mirror, { x: 0, y: 250 }))).toBeLessThan(0.1);
    expect(best!.apart).toBeGreaterThan(23);
    expect(best!.apart).toBeLessThan(25.1);
    expect(Math.abs(best!.apartAt.x)).toBeGreaterThan(175);
    expect(best!.apartAt.y).toBeGreaterThan(295);
    expect(best!.apartAt.y).toBeLessThan(365);
  });

  it('R34 of a half with a slanted side fits nowhere near well enough', () => {
    const halfSkirt = polygon([
      [0, 0],
      [0, 600],
      [260, 600],
      [230, 180],
      [200, 0],
    ]);
    for (const { apart } of findMirrorAxes(halfSkirt)) expect(apart).toBeGreaterThan(10);
  });
});

/** Whole degrees of the axes that fit exactly, from 0 up to 180. */
function directions(outline: Path): number[] {
  return findMirrorAxes(outline)
    .filter(({ apart }) => apart < 1e-6)
    .map(({ mirror: { along } }) => (Math.round((Math.atan2(along.y, along.x) * 180) / Math.PI) + 360) % 180)
    .sort((a, b) => a - b);
}
