import { describe, expect, it } from 'vitest';
import { grainTurns } from '../../src/measure/grainTurn';
import { reportVersion } from '../../src/measure/report';
import { defaultFan } from '../../src/operations/fan';
import { defaultFinish } from '../../src/operations/finish';
import { workPiece } from '../../src/operations/recipe';
import { defaultTrue } from '../../src/operations/true';
import type { Garment } from '../../src/pattern/garment';
import type { Recipe } from '../../src/pattern/recipe';
import { mirrorPiece } from '../support/drafting/mirror';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted, refusalOf } from '../support/outcomes';
import { rectangle } from '../support/rectangle';

const skirt = draftStraightSkirt();
const front = skirt.blocks.find(({ id }) => id === 'front')!;
const fanStep = granted(defaultFan(front, { slashes: 4, opening: 30 }));

function withVersion(recipes: Record<string, Recipe>, garment: Garment = skirt): Garment {
  return {
    ...garment,
    versions: [{ id: 'v1', name: 'Swing', note: '', made: '2024-05-01T12:00:00Z', recipes }],
  };
}

describe('the report of a version', () => {
  it('of the block shows the blocks as they are', () => {
    const report = granted(reportVersion(skirt, null));
    expect(report.version).toBeNull();
    expect(report.pieces.map(({ piece }) => piece)).toEqual(skirt.blocks);
    expect(report.garmentSweepAfter).toBe(report.garmentSweepBefore);
  });

  it('works only the pieces whose block or recipe are other objects than before', () => {
    const frontRecipe: Recipe = [fanStep, defaultTrue()];
    const first = granted(reportVersion(withVersion({ front: frontRecipe }), 'v1'));
    const again = granted(reportVersion(withVersion({ front: frontRecipe }), 'v1'));
    expect(again.pieces[0]).toBe(first.pieces[0]);
    expect(again.pieces[1]).toBe(first.pieces[1]);
    const changed = granted(reportVersion(withVersion({ front: [...frontRecipe] }), 'v1'));
    expect(changed.pieces[0]).not.toBe(first.pieces[0]);
    expect(changed.pieces[0]).toEqual(first.pieces[0]);
    expect(changed.pieces[1]).toBe(first.pieces[1]);
    const otherBlock = { ...skirt, blocks: [{ ...front }, ...skirt.blocks.slice(1)] };
    const moved = granted(reportVersion(withVersion({ front: frontRecipe }, otherBlock), 'v1'));
    expect(moved.pieces[0]).not.toBe(first.pieces[0]);
  });

  it('keeps what it worked for the document while a drag tries one recipe after another', () => {
    const kept: Recipe = [fanStep, defaultTrue()];
    const first = granted(reportVersion(withVersion({ front: kept }), 'v1'));
    for (const opening of [31, 32, 33]) {
      const tried: Recipe = [granted(defaultFan(front, { slashes: 4, opening })), defaultTrue()];
      const dragged = granted(reportVersion(withVersion({ front: tried }), 'v1'));
      expect(dragged.pieces[0]).not.toEqual(first.pieces[0]);
      expect(granted(reportVersion(withVersion({ front: tried }), 'v1')).pieces[0]).toBe(dragged.pieces[0]);
      expect(granted(reportVersion(withVersion({ front: kept }), 'v1')).pieces[0]).toBe(first.pieces[0]);
    }
  });

  it('counts a piece on the fold twice for every time it is cut, any other once', () => {
    const sheet = (id: string, width: number, fold: string | null, cutCount: number) => ({
      ...rectangle(width, 400),
      id,
      fold,
      cutCount,
      locked: true,
    });
    const blocks = [
      sheet('a', 100, 'centre', 1),
      sheet('b', 10, null, 2),
      sheet('c', 1, 'centre', 3),
      sheet('d', 0.5, null, 1),
    ];
    const garment: Garment = { ...skirt, blocks, seamLinks: [], versions: [] };
    expect(granted(reportVersion(garment, null)).garmentSweepBefore).toBeCloseTo(2 * 100 + 2 * 10 + 6 * 1 + 0.5, 9);
  });

  it('has no sweep when no piece has a hem', () => {
    const block = { ...rectangle(100, 100), locked: true };
    const bare = { ...block, edges: block.edges.map((edge) => ({ ...edge, role: 'other' as const })) };
    const report = granted(reportVersion({ ...skirt, blocks: [bare], seamLinks: [], versions: [] }, null));
    expect(report.garmentSweepBefore).toBeNull();
    expect(report.garmentSweepAfter).toBeNull();
  });

  it('grows by what the pieces grow by', () => {
    const report = granted(reportVersion(withVersion({ front: [fanStep, defaultTrue()] }), 'v1'));
    const grown = report.pieces[0]!.sweepAfter! - report.pieces[0]!.sweepBefore!;
    const times = front.cutCount * (front.fold ? 2 : 1);
    expect(report.garmentSweepAfter! - report.garmentSweepBefore!).toBeCloseTo(times * grown, 9);
  });

  it('adds advice when the hem is too full for its depth, and none when it is not', () => {
    const deep = { ...defaultFinish(), hem: 40 };
    const narrow = { ...defaultFinish(), hem: 5 };
    const warnings = (recipe: Recipe) =>
      granted(reportVersion(withVersion({ front: recipe }), 'v1')).pieces[0]!.warnings.join(' ');
    expect(warnings([fanStep, defaultTrue(), deep])).toMatch(/hem 4\.0 cm .* deep has to be eased in/);
    expect(warnings([fanStep, defaultTrue(), narrow])).not.toContain('eased');
    expect(warnings([fanStep, defaultTrue()])).not.toContain('eased');
  });

  it('refuses a version that is gone, and one whose piece cannot be worked', () => {
    expect(refusalOf(reportVersion(skirt, 'gone'))).toBe('version-missing');
    const broken: Recipe = [{ ...fanStep, hem: 'gone' }];
    expect(refusalOf(reportVersion(withVersion({ front: broken }), 'v1'))).not.toBe('accepted');
  });
});

describe('the turn of the grain', () => {
  it('adds up strip by strip from the centre line: 2 in at 24 in is 4.776 degrees, three turn 14.328 (docs/maths/trueing.md)', () => {
    const piece = rectangle(400, 24 * 25.4);
    const through = { ...granted(defaultFan(piece, { slashes: 3, opening: 50.8 })), fullness: null };
    const turns = grainTurns(granted(workPiece(piece, [through])));
    expect(turns.map(({ strip }) => strip)).toEqual([1, 2, 3, 4]);
    const one = (2 * Math.asin(1 / 24) * 180) / Math.PI;
    expect(one).toBeCloseTo(4.776, 3);
    turns.forEach(({ degrees }, index) => {
      expect(degrees).toBeCloseTo(index * one, 9);
    });
    expect(turns[3]!.degrees).toBeCloseTo(14.328, 3);
  });

  it('is the same in the same order on the mirrored piece', () => {
    const recipe: Recipe = [fanStep, defaultTrue()];
    const upright = grainTurns(granted(workPiece(front, recipe)));
    const mirrored = grainTurns(granted(workPiece(mirrorPiece(front, 900), recipe)));
    expect(mirrored).toHaveLength(5);
    mirrored.forEach(({ degrees }, index) => {
      expect(degrees).toBeCloseTo(upright[index]!.degrees, 9);
    });
  });

  it('is empty for a piece that was not fanned', () => {
    expect(grainTurns(granted(workPiece(front, [])))).toEqual([]);
  });
});
