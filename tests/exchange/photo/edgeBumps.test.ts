import { describe, expect, it } from 'vitest';
import { proposeCorners } from '../../../src/exchange/cornerProposal';
import { type Chain, evenly } from '../../../src/exchange/photo/chain';
import { bumpsOf } from '../../../src/exchange/photo/edgeBumps';
import type { Point } from '../../../src/geometry/point';
import { sampleOutline } from '../../support/photo/samplePieces';
import { chain } from '../../support/photo/shapes';

const spacing = 0.5;

const blocks = [
  ['straight-skirt', 'front'],
  ['straight-skirt', 'back'],
  ['sleeveless-top', 'front'],
  ['sleeveless-top', 'back'],
] as const;

type Block = readonly ['straight-skirt' | 'sleeveless-top', 'front' | 'back'];

/** A true outline as places half a mm apart, and which of them are corners. */
function placesOf([garment, block]: Block, scale: number) {
  const path = sampleOutline(garment, block);
  const places = chain(path, 0.2).map(({ x, y }) => ({ x: x * scale, y: y * scale }));
  const outline = evenly(
    { xs: Float64Array.from(places, (p) => p.x), ys: Float64Array.from(places, (p) => p.y) },
    spacing,
  );
  const corners = proposeCorners(path).map(({ point: { x, y } }) => nearest(outline, { x: x * scale, y: y * scale }));
  return { outline, corners: corners.sort((a, b) => a - b) };
}

function nearest({ xs, ys }: Chain, { x, y }: Point): number {
  const away = Array.from(xs, (u, i) => Math.hypot(u - x, ys[i]! - y));
  return away.indexOf(Math.min(...away));
}

/** The outline pushed to the side round place `at`: a round hump, mm high and wide. */
function withHump({ xs, ys }: Chain, at: number, high: number, wide: number): Chain {
  const n = xs.length;
  const lift = (i: number) => {
    const t = (((i - at + n / 2 + n) % n) - n / 2) * (spacing / (wide / 2));
    return Math.abs(t) < 1 ? high * (1 - t * t) : 0;
  };
  const [i, j] = [(at - 4 + n) % n, (at + 4) % n];
  const chord = Math.hypot(xs[j]! - xs[i]!, ys[j]! - ys[i]!);
  const [nx, ny] = [(ys[j]! - ys[i]!) / chord, (xs[i]! - xs[j]!) / chord];
  return { xs: xs.map((x, k) => x + nx * lift(k)), ys: ys.map((y, k) => y + ny * lift(k)) };
}

const flagged = (flags: Uint8Array) => flags.reduce((sum, flag) => sum + flag, 0);

describe('a bump of an outline', () => {
  it.each(blocks)('is none of the true curves of %s, %s, large or small', (garment, block) => {
    for (const scale of [0.5, 0.8, 1, 1.3]) {
      const { outline, corners } = placesOf([garment, block], scale);
      expect(flagged(bumpsOf(outline, corners, 0, spacing))).toBe(0);
    }
  });

  it.each([
    [1, 8],
    [2, 16],
    [6, 30],
    [6, 50],
  ])('is seen where a thing %d mm high and %d mm wide lies across an edge', (high, wide) => {
    const { outline, corners } = placesOf(blocks[0], 1);
    // The middle of the longest edge.
    const n = outline.xs.length;
    const gaps = corners.map((from, c) => ({ from, size: (corners[(c + 1) % corners.length]! - from + n) % n }));
    const { from, size } = gaps.reduce((best, gap) => (gap.size > best.size ? gap : best));
    const middle = (from + (size >> 1)) % n;
    const flags = bumpsOf(withHump(outline, middle, high, wide), corners, 0.02, spacing);
    expect(flags[middle]).toBe(1);
    const told = Array.from(flags.keys()).filter((i) => flags[i] === 1);
    for (const i of told) expect(Math.abs(i - middle) * spacing).toBeLessThan(wide / 2 + 90);
  });

  it('is not seen where it is no higher than the scatter of that edge explains', () => {
    const { outline, corners } = placesOf(blocks[0], 1);
    const humped = withHump(outline, (corners[0]! + 400) % outline.xs.length, 1, 8);
    expect(flagged(bumpsOf(humped, corners, 0.02, spacing))).toBeGreaterThan(0);
    expect(flagged(bumpsOf(humped, corners, 0.2, spacing))).toBe(0);
  });
});
