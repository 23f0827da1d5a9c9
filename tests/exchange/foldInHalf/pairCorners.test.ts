import { describe, expect, it } from 'vitest';
import { pairCorners } from '../../../src/exchange/foldInHalf/pairCorners';
import type { Side } from '../../../src/exchange/foldInHalf/sideChains';
import { point } from '../../../src/geometry/point';
import { line } from '../../../src/geometry/segment';

const edge = { name: 'Side', role: 'side' } as const;

/** A straight side of 100 mm with corners at these places; those given as negative are sharp turns inside an edge. */
function sideWith(...places: readonly number[]): Side {
  return {
    path: [line(point(0, 0), point(0, 100))],
    corners: places.map((at) => ({ at: point(0, Math.abs(at)), along: Math.abs(at), edge: at < 0 ? null : edge })),
    first: edge,
    cornered: [false, false],
  };
}

const places = (side: Side, other: Side) =>
  pairCorners(side, other).map(([a, b]) => [Math.round(a.along), Math.round(b.along)]);

describe('the corners of both sides', () => {
  it('R34 find the nearest of the other side, never across another pair', () => {
    expect(places(sideWith(20, 50), sideWith(24, 47))).toEqual([
      [20, 24],
      [50, 47],
    ]);
    expect(places(sideWith(45, 50), sideWith(51, 56))).toEqual([
      [45, 45],
      [50, 51],
      [56, 56],
    ]);
  });

  it('R34 that only one side has are carried over, whichever side it is', () => {
    expect(places(sideWith(20), sideWith())).toEqual([[20, 20]]);
    expect(places(sideWith(), sideWith(70))).toEqual([[70, 70]]);
    // Farther apart than corners of one place can be.
    expect(places(sideWith(20), sideWith(40))).toEqual([
      [20, 20],
      [40, 40],
    ]);
  });

  it('R34 sharp turns inside an edge count where both sides have them', () => {
    expect(places(sideWith(-30), sideWith(-33))).toEqual([[30, 33]]);
    expect(places(sideWith(-30), sideWith())).toEqual([]);
    // A corner takes a corner before a nearer turn.
    expect(places(sideWith(30), sideWith(-31, 34))).toEqual([[30, 34]]);
  });
});
