import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../src/geometry/outcome';
import * as edits from '../../src/pattern/edits';
import type { BlockPiece, Garment, Version } from '../../src/pattern/garment';
import { findStep, recipeOf } from '../../src/pattern/lookUp';
import type { FanStep, FinishStep, TrueStep } from '../../src/pattern/recipe';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';

const version: Version = { id: 'v1', name: 'Swing', note: '', made: '2026-01-01T00:00:00.000Z', recipes: {} };
const top: Garment = { ...draftSleevelessTop(), versions: [version] };
const open: BlockPiece = { ...top.blocks[0]!, id: 'facing', name: 'Facing', locked: false };

const fan: FanStep = {
  kind: 'fan',
  centre: 'centre-front',
  hem: 'hem',
  side: 'side',
  fullness: { downSide: 50, tilt: 0 },
  slashes: [{ id: 's1', across: 0.5, tilt: 0, opening: { measure: 'chord', hem: 38.1, far: 0 } }],
  centreRule: 'parallel',
  sideTurn: 0,
};
const trueing: TrueStep = {
  kind: 'true',
  side: { up: 60, down: 80, fullness: 0.8 },
  hem: {
    level: 'follow-strips',
    corners: 'square',
    spans: 1,
    fairness: 3e-7,
    handles: { centre: null, side: null },
    drop: { centre: 0, side: 0 },
  },
};
const finish: FinishStep = { kind: 'finish', seam: 15, hem: 20, byEdge: {}, mirrorHemEnds: true };

function value(outcome: Outcome<Garment>): Garment {
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

function code(outcome: Outcome<Garment>): string {
  return outcome.ok ? 'done' : outcome.code;
}

describe('steps of a recipe', () => {
  it('stand in working order, whichever came first, and replace the one of their kind', () => {
    let garment = value(edits.withStep(top, 'v1', 'front', finish));
    garment = value(edits.withStep(garment, 'v1', 'front', fan));
    garment = value(edits.withStep(garment, 'v1', 'front', trueing));
    expect(recipeOf(garment, 'v1', 'front')).toEqual([fan, trueing, finish]);
    const wider = { ...fan, sideTurn: 3 };
    garment = value(edits.withStep(garment, 'v1', 'front', wider));
    expect(recipeOf(garment, 'v1', 'front')).toEqual([wider, trueing, finish]);
    expect(findStep(recipeOf(garment, 'v1', 'front'), 'fan')).toBe(wider);
    expect(recipeOf(garment, 'v1', 'back')).toEqual([]);
    expect(top.versions[0]!.recipes).toEqual({});
  });

  it('can be taken out again; the last one takes the recipe along', () => {
    const with1 = value(edits.withStep(top, 'v1', 'front', fan));
    const without = value(edits.withoutStep(with1, 'v1', 'front', 'fan'));
    expect(without).toEqual(top);
    expect(value(edits.withoutStep(top, 'v1', 'front', 'fan'))).toBe(top);
    const two = value(edits.withStep(with1, 'v1', 'front', finish));
    expect(recipeOf(value(edits.withoutStep(two, 'v1', 'front', 'fan')), 'v1', 'front')).toEqual([finish]);
  });

  it('are refused on an unlocked or unknown piece and an unknown version; the same step again changes nothing', () => {
    const unlocked = value(edits.addBlock(top, open));
    expect(code(edits.withStep(unlocked, 'v1', 'facing', fan))).toBe('block-unlocked');
    expect(code(edits.withStep(top, 'v1', 'sleeve', fan))).toBe('piece-unknown');
    expect(code(edits.withStep(top, 'v9', 'front', fan))).toBe('version-unknown');
    expect(code(edits.withoutStep(top, 'v9', 'front', 'fan'))).toBe('version-unknown');
    expect(code(edits.withoutStep(top, 'v1', 'sleeve', 'fan'))).toBe('piece-unknown');
    const fanned = value(edits.withStep(top, 'v1', 'front', fan));
    expect(value(edits.withStep(fanned, 'v1', 'front', fan))).toBe(fanned);
  });
});

describe('block pieces', () => {
  it('R1 change until they are locked and never after', () => {
    const added = value(edits.addBlock(top, open));
    expect(code(edits.addBlock(added, open))).toBe('piece-twice');
    const renamed = value(edits.replaceUnlockedBlock(added, { ...open, name: 'Neck facing' }));
    expect(renamed.blocks[2]!.name).toBe('Neck facing');
    expect(renamed.blocks[0]).toBe(top.blocks[0]);
    const locked = value(edits.lockBlock(renamed, 'facing'));
    expect(locked.blocks[2]).toEqual({ ...open, name: 'Neck facing', locked: true });
    expect(code(edits.replaceUnlockedBlock(locked, { ...open, name: 'Other' }))).toBe('block-locked');
    expect(code(edits.replaceUnlockedBlock(locked, { ...locked.blocks[2]!, locked: false }))).toBe('block-locked');
    expect(value(edits.lockBlock(locked, 'facing'))).toBe(locked);
    expect(code(edits.lockBlock(top, 'sleeve'))).toBe('piece-unknown');
    expect(code(edits.replaceUnlockedBlock(top, open))).toBe('piece-unknown');
  });
});

describe('versions', () => {
  it('are hung, renamed, noted, duplicated in place and taken off', () => {
    const second = value(edits.addVersion(top, { ...version, id: 'v2', name: ' Wide ' }));
    expect(second.versions.map((each) => each.name)).toEqual(['Swing', 'Wide']);
    const noted = value(edits.noteVersion(value(edits.renameVersion(second, 'v1', ' Full ')), 'v1', 'Dropped 6 mm'));
    expect(noted.versions[0]).toEqual({ ...version, name: 'Full', note: 'Dropped 6 mm' });
    const copied = value(
      edits.duplicateVersion(noted, 'v1', { id: 'v3', name: 'Full copy', made: '2026-02-02T00:00:00.000Z' }),
    );
    expect(copied.versions.map((each) => each.id)).toEqual(['v1', 'v3', 'v2']);
    expect(copied.versions[1]).toMatchObject({ note: 'Dropped 6 mm', made: '2026-02-02T00:00:00.000Z' });
    expect(value(edits.deleteVersion(copied, 'v1')).versions.map((each) => each.id)).toEqual(['v3', 'v2']);
  });

  it('refuse a blank name, a used id and an unknown version; the same again changes nothing', () => {
    expect(code(edits.addVersion(top, version))).toBe('version-twice');
    expect(code(edits.addVersion(top, { ...version, id: 'v2', name: ' ' }))).toBe('name-blank');
    expect(code(edits.renameVersion(top, 'v1', ''))).toBe('name-blank');
    expect(code(edits.renameVersion(top, 'v9', 'x'))).toBe('version-unknown');
    expect(code(edits.duplicateVersion(top, 'v9', { id: 'v2', name: 'x', made: version.made }))).toBe(
      'version-unknown',
    );
    expect(code(edits.duplicateVersion(top, 'v1', { id: 'v1', name: 'x', made: version.made }))).toBe('version-twice');
    expect(code(edits.deleteVersion(top, 'v9'))).toBe('version-unknown');
    expect(value(edits.renameVersion(top, 'v1', 'Swing'))).toBe(top);
    expect(value(edits.noteVersion(top, 'v1', ''))).toBe(top);
  });
});

describe('the garment', () => {
  it('is renamed and shown in another unit', () => {
    expect(value(edits.renameGarment(top, ' Tunic ')).name).toBe('Tunic');
    expect(code(edits.renameGarment(top, ' '))).toBe('name-blank');
    expect(value(edits.renameGarment(top, top.name))).toBe(top);
    expect(edits.setUnit(top, 'cm').unit).toBe('cm');
    expect(edits.setUnit(top, 'in')).toBe(top);
  });

  it('notes a seam once, whichever edge is named first', () => {
    const link = {
      id: 'new',
      first: { piece: 'back', edge: 'side' },
      second: { piece: 'front', edge: 'side' },
      ease: 4,
    };
    const linked = value(edits.linkSeam(top, link));
    expect(linked.seamLinks.map((each) => each.id)).toEqual(['shoulder-seam', 'new']);
    expect(value(edits.unlinkSeam(linked, 'new')).seamLinks.map((each) => each.id)).toEqual(['shoulder-seam']);
    expect(code(edits.unlinkSeam(top, 'new'))).toBe('seam-unknown');
  });
});
