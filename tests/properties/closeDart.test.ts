import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathLength, pathPointAt } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { closeDarts } from '../../src/operations/closedDarts';
import { matchPartner } from '../../src/operations/matchPartner';
import { workPiece } from '../../src/operations/recipe';
import { defaultTrue } from '../../src/operations/true';
import type { BlockPiece } from '../../src/pattern/garment';
import type { Piece } from '../../src/pattern/piece';
import type { CloseDartStep, Recipe } from '../../src/pattern/recipe';
import { mirrorPiece } from '../support/drafting/mirror';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted } from '../support/outcomes';

const skirt = draftStraightSkirt();
const front = { ...skirt.blocks.find(({ id }) => id === 'front')! };
const edges = { centre: 'centre-front', hem: 'hem', side: 'side' } as const;

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const shares = fc.oneof(fc.constant(1), between(0.05, 0.99));
const feet = fc.option(between(0.3, 0.7), { nil: null });

/** The front of the sample with a dart of another length, holes on either side of it and a notch beyond it. */
const fronts = fc.record({ depth: between(70, 160), lean: between(-8, 8) }).map(({ depth, lean }): BlockPiece => {
  const [dart] = front.darts;
  const middle = { x: (dart!.legs[0].x + dart!.legs[1].x) / 2, y: (dart!.legs[0].y + dart!.legs[1].y) / 2 };
  return {
    ...front,
    darts: [{ ...dart!, apex: { x: middle.x + lean, y: middle.y + depth } }],
    drillHoles: [
      { id: 'centre-hole', at: { x: 20, y: 560 } },
      { id: 'side-hole', at: { x: 225, y: 560 } },
    ],
    notches: [...front.notches, { id: 'waist-notch', edge: 'waist', distance: 25, style: 'single' }],
  };
});

function closing(share: number, foot: number | null): CloseDartStep {
  return { kind: 'close-dart', dart: 'waist-dart', ...edges, share, foot };
}

function near(a: Point, b: Point, within: number): void {
  expect(distance(a, b), `(${a.x}, ${a.y}) against (${b.x}, ${b.y})`).toBeLessThan(within);
}

const pathOf = (piece: Piece, id: string) => piece.edges.find((edge) => edge.id === id)!.path;
const areaOf = (piece: Piece) => enclosedArea(piece.edges.flatMap(({ path }) => path));
const hole = (piece: Piece, id: string) => piece.drillHoles.find((one) => one.id === id)!.at;
const notch = (piece: Piece, id: string) => {
  const { edge, distance: along } = piece.notches.find((one) => one.id === id)!;
  return pathPointAt(pathOf(piece, edge), along).point;
};

describe('darts closed on any front', () => {
  it('R36 a mirrored front, closed, is the mirror image of the front, closed: outline, marks and what is said', () => {
    const flip = (p: Point) => ({ x: -p.x, y: p.y });
    fc.assert(
      fc.property(fronts, shares, feet, (piece, share, foot) => {
        const recipe: Recipe = [closing(share, foot), { ...defaultTrue(), dartEdges: 'smooth' }];
        const one = granted(workPiece(piece, recipe));
        const other = granted(workPiece(mirrorPiece(piece, 0), recipe));
        for (const id of ['waist', 'side', 'centre-front']) {
          const [path, back] = [pathOf(one.piece, id), pathOf(other.piece, id)];
          const length = pathLength(path);
          expect(pathLength(back)).toBeCloseTo(length, 6);
          for (const part of [0, 0.25, 0.5, 0.75, 1]) {
            const there = pathPointAt(back, (1 - part) * length).point;
            near(flip(pathPointAt(path, part * length).point), there, 1e-5);
          }
        }
        for (const id of ['centre-hole', 'side-hole']) near(flip(hole(one.piece, id)), hole(other.piece, id), 1e-8);
        for (const { id } of piece.notches) near(flip(notch(one.piece, id)), notch(other.piece, id), 1e-5);
        one.piece.darts.forEach((dart, index) => {
          const answer = other.piece.darts[index]!;
          near(flip(dart.legs[0]), answer.legs[1], 1e-8);
          near(flip(dart.legs[1]), answer.legs[0], 1e-8);
        });
        expect(other.warnings).toEqual(one.warnings);
      }),
      { numRuns: 30 },
    );
  });

  it('R36 a part of the dart and then the rest turn the side’s part as all of it at once', () => {
    fc.assert(
      fc.property(fronts, between(0.1, 0.9), (piece, share) => {
        const once = granted(closeDarts(piece, [closing(1, null)]))!.piece;
        const part = granted(closeDarts(piece, [closing(share, null)]))!.piece;
        const rest = granted(closeDarts(part, [closing(1, 0.5)]))!.piece;
        expect(rest.darts).toEqual([]);
        near(hole(rest, 'side-hole'), hole(once, 'side-hole'), 1e-7);
        near(hole(rest, 'centre-hole'), hole(piece, 'centre-hole'), 1e-9);
        expect(pathLength(pathOf(rest, 'waist'))).toBeCloseTo(pathLength(pathOf(once, 'waist')), 7);
        near(pathOf(rest, 'side').at(-1)!.end, pathOf(once, 'side').at(-1)!.end, 1e-7);
      }),
      { numRuns: 30 },
    );
  });

  it('R36 marks go with their part: the centre’s stay, the side’s keep their places on its cloth', () => {
    fc.assert(
      fc.property(fronts, shares, feet, (piece, share, foot) => {
        const { piece: after, darts } = granted(closeDarts(piece, [closing(share, foot)]))!;
        const { apex } = piece.darts[0]!;
        near(hole(after, 'centre-hole'), hole(piece, 'centre-hole'), 1e-9);
        // The side's part turns about the point: away from where it was, no nearer to the point, by the angle closed.
        const [from, to] = [hole(piece, 'side-hole'), hole(after, 'side-hole')];
        expect(distance(to, apex)).toBeCloseTo(distance(from, apex), 8);
        expect(distance(from, to)).toBeCloseTo(2 * distance(from, apex) * Math.sin(darts[0]!.angle / 2), 7);
        expect(to.x).toBeGreaterThan(from.x);
        // Both waist and hip notch lie on the side's part, 25 mm and the same way down from its waist corner.
        const corner = pathOf(after, 'waist')[0]!.start;
        const before = pathOf(piece, 'waist')[0]!.start;
        for (const id of ['waist-notch', 'hip-notch']) {
          expect(distance(notch(after, id), corner)).toBeCloseTo(distance(notch(piece, id), before), 6);
          expect(distance(notch(after, id), to)).toBeCloseTo(distance(notch(piece, id), from), 6);
        }
        expect(areaOf(after)).toBeGreaterThan(areaOf(piece));
      }),
      { numRuns: 30 },
    );
  });

  it('R19 R36 the matched back turns by the same share of its own dart, and opens by its own length', () => {
    fc.assert(
      fc.property(shares, (share) => {
        const version = { id: 'v', name: 'V', note: '', made: '2026-01-01T00:00:00Z' };
        const recipes = { front: [closing(share, null), defaultTrue()] };
        const matched = granted(matchPartner({ ...skirt, versions: [{ ...version, recipes }] }, 'v', 'front'));
        const back = skirt.blocks.find(({ id }) => id === 'back')!;
        const worked = granted(workPiece(back, matched.versions[0]!.recipes.back!));
        const [closed] = worked.fanned!.closed!.darts;
        const [dart] = back.darts;
        const angle = 2 * Math.asin(distance(...dart!.legs) / 2 / distance(dart!.apex, dart!.legs[0]));
        expect(closed!.angle).toBeCloseTo(share * angle, 9);
        // Straight down from the point to the level hem at y = 600.
        expect(closed!.opening).toBeCloseTo(2 * (600 - dart!.apex.y) * Math.sin((share * angle) / 2), 8);
        expect(worked.trued!.smoothed).toHaveLength(share === 1 ? 1 : 0);
        const sides = worked.lengths.find(({ id }) => id === 'side')!;
        expect(sides.after).toBeCloseTo(sides.before, 6);
      }),
      { numRuns: 20 },
    );
  });
});
