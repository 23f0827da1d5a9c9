import { describe, expect, it } from 'vitest';
import { edgeParts } from '../../../src/exchange/edgeParts';
import { fittingAxes, guessLie } from '../../../src/exchange/foldInHalf/guessLie';
import { line, type Path } from '../../../src/geometry/segment';

const polygon = (...points: readonly (readonly [number, number])[]): Path =>
  points.map(([x, y], i) => {
    const [nx, ny] = points[(i + 1) % points.length]!;
    return line({ x, y }, { x: nx, y: ny });
  });

/** Guesses for a polygon whose first edge is its centre, or nothing in particular. */
function guessOf(path: Path, role: 'centre-front' | 'other') {
  const corners = path.map((_, segment) => ({
    segment,
    t: 0,
    name: segment === 0 ? 'Centre front' : `Edge ${segment + 1}`,
    role: segment === 0 ? role : ('other' as const),
  }));
  const parts = edgeParts(path, corners);
  if (!parts.ok) throw new Error(parts.sentence);
  return guessLie(corners, parts.value, fittingAxes(path));
}

describe('what is guessed of how a piece lies', () => {
  it('R34 two like sides and no centre edge: drawn whole', () => {
    const skirt = polygon([-175, 0], [-260, 640], [260, 640], [175, 0]);
    expect(guessOf(skirt, 'other')).toMatchObject({ is: 'both-sides', reason: 'Both sides look the same.' });
    // 6 mm apart could be the same twice, but that is not said for the maker.
    const uneven = polygon([-175, 0], [-260, 640], [272, 640], [175, 0]);
    const { is, axes } = guessOf(uneven, 'other');
    expect(is).toBe(null);
    expect(axes).toHaveLength(1);
  });

  it('R34 a straight centre edge and no two like sides: half of it; neither: cut as it lies', () => {
    const half = polygon([0, 0], [0, 640], [260, 600], [175, 0]);
    expect(guessOf(half, 'centre-front')).toMatchObject({
      is: 'half',
      reason: expect.stringContaining('Centre front'),
    });
    expect(guessOf(half, 'other')).toMatchObject({ is: 'as-it-lies', axes: [] });
  });

  it('R34 a plain rectangle with a centre edge may be either, and is left open', () => {
    expect(guessOf(polygon([0, 0], [0, 640], [260, 640], [260, 0]), 'centre-front').is).toBe(null);
  });

  it('R34 of folds that fit alike the upright one comes first', () => {
    const axes = fittingAxes(polygon([0, 0], [0, 200], [500, 200], [500, 0]));
    expect(axes.map(({ mirror }) => Math.round(Math.abs(mirror.along.y)))).toEqual([1, 0]);
  });
});
