import { describe, expect, it } from 'vitest';
import { matchPartner } from '../../src/operations/matchPartner';
import { workPiece } from '../../src/operations/recipe';
import { closingsOf } from '../../src/pattern/closings';
import type { Garment } from '../../src/pattern/garment';
import type { CloseDartStep, Recipe } from '../../src/pattern/recipe';
import { validateRecipe } from '../../src/pattern/validateRecipe';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted, refusalOf } from '../support/outcomes';

const skirt = draftStraightSkirt();
const closing: CloseDartStep = {
  kind: 'close-dart',
  dart: 'waist-dart',
  centre: 'centre-front',
  hem: 'hem',
  side: 'side',
  share: 0.75,
  foot: null,
};

function version(garment: Garment, recipes: Readonly<Record<string, Recipe>>): Garment {
  return { ...garment, versions: [{ id: 'v', name: 'Flared', note: '', made: '2026-01-01T00:00:00Z', recipes }] };
}

/** The skirt with a second dart on its back, nearer to the centre. */
function twoBackDarts(): Garment {
  const blocks = skirt.blocks.map((block) => {
    if (block.id !== 'back') return block;
    const [dart] = block.darts;
    const shift = (p: { x: number; y: number }) => ({ x: p.x + 60, y: p.y });
    const second = {
      ...dart!,
      id: 'second',
      apex: shift(dart!.apex),
      legs: [shift(dart!.legs[0]), shift(dart!.legs[1])] as const,
    };
    return { ...block, darts: [...block.darts, second] };
  });
  return { ...skirt, blocks };
}

describe('matching a partner whose darts are closed too', () => {
  it('R19 R36 closes the same share of its one dart', () => {
    const matched = granted(matchPartner(version(skirt, { front: [closing] }), 'v', 'front'));
    const back = matched.versions[0]!.recipes.back!;
    expect(back).toEqual([{ ...closing, centre: 'centre-back' }]);
    expect(workPiece(matched.blocks.find(({ id }) => id === 'back')!, back).ok).toBe(true);
  });

  it('R19 asks where one dart faces two, and keeps what was then closed by hand', () => {
    const two = twoBackDarts();
    expect(refusalOf(matchPartner(version(two, { front: [closing] }), 'v', 'front'))).toBe('partner-darts');
    const own: CloseDartStep = { ...closing, centre: 'centre-back', share: 0.4 };
    const matched = granted(matchPartner(version(two, { front: [closing], back: [own] }), 'v', 'front'));
    expect(closingsOf(matched.versions[0]!.recipes.back!)).toEqual([own]);
  });

  it('R19 R36 two darts answer two, one for one from the centre line, whatever their order in the list', () => {
    const both = twoBackDarts();
    const front = skirt.blocks.find(({ id }) => id === 'front')!;
    const shifted = (p: { x: number; y: number }) => ({ x: p.x - 50, y: p.y });
    const [dart] = front.darts;
    const inner = {
      ...dart!,
      id: 'inner',
      apex: shifted(dart!.apex),
      legs: [shifted(dart!.legs[0]), shifted(dart!.legs[1])] as const,
    };
    const two = {
      ...both,
      blocks: both.blocks.map((block) => (block.id === 'front' ? { ...block, darts: [dart!, inner] } : block)),
    };
    const recipe = [closing, { ...closing, dart: 'inner', share: 0.2 }];
    const matched = granted(matchPartner(version(two, { front: recipe }), 'v', 'front'));
    // On the back the centre lies at the greater x: the dart called second is the inner one.
    expect(closingsOf(matched.versions[0]!.recipes.back!).map(({ dart: id, share }) => [id, share])).toEqual([
      ['waist-dart', 0.75],
      ['second', 0.2],
    ]);
    const back = two.blocks.find(({ id }) => id === 'back')!;
    const turned = {
      ...two,
      blocks: two.blocks.map((b) => (b === back ? { ...b, darts: [...b.darts].reverse() } : b)),
    };
    const again = granted(matchPartner(version(turned, { front: recipe }), 'v', 'front'));
    expect(again.versions[0]!.recipes.back).toEqual(matched.versions[0]!.recipes.back);
  });

  it('a partner without a dart there has none to close', () => {
    const bare = { ...skirt, blocks: skirt.blocks.map((b) => (b.id === 'back' ? { ...b, darts: [] } : b)) };
    const matched = granted(matchPartner(version(bare, { front: [closing] }), 'v', 'front'));
    expect(matched.versions[0]!.recipes.back).toEqual([]);
  });
});

describe('rules of closed darts in a recipe', () => {
  const front = skirt.blocks.find(({ id }) => id === 'front')!;
  const codes = (...recipe: Recipe) => validateRecipe(front, recipe, { piece: 'front' }).map(({ code }) => code);
  const fan = {
    kind: 'fan',
    centre: 'centre-front',
    hem: 'hem',
    side: 'side',
    fullness: null,
    slashes: [],
    centreRule: 'parallel',
    sideTurn: 0,
  } as const;

  it('R36 takes darts before the fan, each once, on the fan’s own edges', () => {
    expect(codes(closing, fan)).toEqual([]);
    expect(codes(fan, closing)).toEqual(['steps-out-of-order']);
    expect(codes(closing, closing)).toEqual(['dart-closed-twice']);
    expect(codes(closing, { ...fan, side: 'waist' })).toEqual(['closing-edges-differ']);
  });

  it('R36 refuses darts, edges, shares and places that are not there', () => {
    expect(codes({ ...closing, dart: 'gone' })).toEqual(['dart-unknown']);
    expect(codes({ ...closing, hem: 'gone' })).toEqual(['closing-edges-unknown']);
    expect(codes({ ...closing, share: 1.01 })).toEqual(['dart-share']);
    expect(codes({ ...closing, share: Number.NaN })).toEqual(['dart-share']);
    expect(codes({ ...closing, foot: 1 })).toEqual(['dart-foot-off-hem']);
  });
});
