import { describe, expect, it } from 'vitest';
import { walkSeam } from '../../src/measure/seams';
import { workPiece } from '../../src/operations/recipe';
import type { SeamLink } from '../../src/pattern/garment';
import type { Notch, Piece } from '../../src/pattern/piece';
import { mirrorPiece } from '../support/drafting/mirror';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { granted } from '../support/outcomes';
import { rectangle } from '../support/rectangle';

const link: SeamLink = {
  id: 'side-seam',
  first: { piece: 'front', edge: 'side' },
  second: { piece: 'back', edge: 'side' },
  ease: 0,
};

function worked(id: string, length: number, notches: Notch[] = [], mirrored = false) {
  const piece: Piece = { ...rectangle(200, length), id, notches };
  return granted(workPiece(mirrored ? mirrorPiece({ ...piece, locked: true }, 0) : piece, []));
}

describe('walking a seam', () => {
  it.each([
    [500, 'match'],
    [500.99, 'match'],
    [501.01, 'close'],
    [501.59, 'close'],
    [501.61, 'warn'],
    [503.19, 'warn'],
    [503.21, 'fail'],
  ] as const)('R19 a front of %f mm against a back of 500 is a %s', (length, verdict) => {
    const pieces = [worked('front', length), worked('back', 500)];
    expect(walkSeam(link, pieces)!.verdict).toBe(verdict);
    const swapped = { ...link, first: link.second, second: link.first };
    expect(walkSeam(swapped, pieces)!.verdict).toBe(verdict);
  });

  it('takes the intended ease off the first edge', () => {
    const pieces = [worked('front', 506), worked('back', 500)];
    const report = walkSeam({ ...link, ease: 6 }, pieces)!;
    expect(report.difference).toBeCloseTo(0, 9);
    expect(report.verdict).toBe('match');
  });

  it.each([false, true])('compares notches from the upper ends (back mirrored: %s)', (mirrored) => {
    const notch = (id: string, distance: number): Notch => ({ id, edge: 'side', distance, style: 'single' });
    // On these pieces the side starts at the hem: 300 from the hem of a 500 seam is 200 from the top.
    const front = worked('front', 500, [notch('a', 300), notch('b', 100)]);
    const back = worked('back', 490, [notch('a', 288), notch('b', 91)], mirrored);
    const { notchOffsets } = walkSeam(link, [front, back])!;
    // From the top: front 200 and 400, back 202 and 399.
    expect(notchOffsets.map((offset) => Math.round(offset * 1e6) / 1e6)).toEqual([-2, 1]);
  });

  it('adds the two hem corners', () => {
    const square = walkSeam(link, [worked('front', 500), worked('back', 500, [], true)])!;
    expect(square.joinedHemCorner).toBeCloseTo(Math.PI, 12);
    const flared: Piece = {
      ...rectangle(200, 500),
      id: 'front',
      edges: rectangle(200, 500).edges.map((edge) => {
        if (edge.id === 'hem') return { ...edge, path: [{ ...edge.path[0]!, end: { x: 260, y: 0 } }] };
        return edge.id === 'side' ? { ...edge, path: [{ ...edge.path[0]!, start: { x: 260, y: 0 } }] } : edge;
      }),
    };
    const report = walkSeam(link, [granted(workPiece(flared, [])), worked('back', 500)])!;
    expect(report.joinedHemCorner).toBeCloseTo(Math.atan2(500, 60) + Math.PI / 2, 12);
  });

  it('a seam that reaches no hem has no joined corner, and its notches are paired from ends that meet', () => {
    const garment = draftSleevelessTop();
    const pieces = garment.blocks.map((block) => {
      const notch: Notch = { id: 'middle', edge: 'shoulder', distance: block.id === 'front' ? 40 : 0, style: 'single' };
      return granted(workPiece({ ...block, notches: [notch] }, []));
    });
    const [front, back] = pieces;
    const length = walkSeam(garment.seamLinks.find(({ id }) => id === 'shoulder-seam')!, pieces)!.second.length;
    // 40 from the armhole on the front; the back is drawn the other way round, so there it is length - 40.
    const placed = {
      ...back!,
      piece: { ...back!.piece, notches: [{ ...back!.piece.notches[0]!, distance: length - 40 }] },
    };
    const report = walkSeam(garment.seamLinks.find(({ id }) => id === 'shoulder-seam')!, [front!, placed])!;
    expect(report.joinedHemCorner).toBeNull();
    expect(Math.abs(report.notchOffsets[0]!)).toBeLessThan(1e-9 + Math.abs(report.difference));
  });

  it('is null when a piece or an edge of the link is missing', () => {
    expect(walkSeam(link, [worked('front', 500)])).toBeNull();
    expect(
      walkSeam({ ...link, second: { piece: 'back', edge: 'gone' } }, [worked('front', 500), worked('back', 500)]),
    ).toBeNull();
  });
});
