import { describe, expect, it } from 'vitest';
import { defaultFan } from '../../src/operations/fan';
import { defaultFinish } from '../../src/operations/finish';
import { workPiece } from '../../src/operations/recipe';
import { defaultTrue } from '../../src/operations/true';
import type { Garment } from '../../src/pattern/garment';
import { findBlock, findStep, recipeOf } from '../../src/pattern/lookUp';
import type { FanStep } from '../../src/pattern/recipe';
import type { AppStore } from '../../src/store/appCommands';
import { shownNow } from '../../src/store/shown';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { must, testStore } from '../support/testStore';

const top = draftSleevelessTop();

function activeFan(store: AppStore, piece = 'front'): FanStep {
  const { garment, activeVersion } = store.getState();
  return findStep(recipeOf(garment!, activeVersion, piece), 'fan')!;
}

function labels(store: AppStore): string[] {
  return store.getState().past.map((step) => step.label);
}

describe('the first change of a block', () => {
  it('starts a version in the same undo step and takes it down', () => {
    const store = testStore(top);
    must(store.commands.setOpeningForAll('front', 38.1));
    expect(labels(store)).toEqual(['Open every slash line 1 1/2 in']);
    const { garment, activeVersion } = store.getState();
    expect(garment!.versions).toMatchObject([{ id: activeVersion, name: 'Version 1', note: '' }]);
    expect(activeFan(store).slashes.map((slash) => slash.opening)).toEqual(
      Array.from({ length: 4 }, () => ({ measure: 'chord', hem: 38.1, far: 0 })),
    );
    expect(garment!.blocks).toEqual(top.blocks);
    store.actions.undo();
    expect(store.getState()).toMatchObject({ garment: top, activeVersion: null });
    store.actions.redo();
    expect(store.getState()).toMatchObject({ garment, activeVersion });
  });

  it('locks blocks that were still open', () => {
    const store = testStore({ ...top, blocks: top.blocks.map((block) => ({ ...block, locked: false })) });
    must(store.commands.setSlashCount('front', 2));
    expect(store.getState().garment!.blocks.map((block) => block.locked)).toEqual([true, true]);
  });

  it('previews one and the same version from frame to frame', () => {
    const store = testStore(top);
    must(store.commands.setOpeningForAll('front', 10, 'preview'));
    const first = shownNow(store.getState())!.report.version;
    must(store.commands.setOpeningForAll('front', 20, 'preview'));
    expect(first).not.toBeNull();
    expect(shownNow(store.getState())!.report.version).toBe(first);
    expect(store.getState()).toMatchObject({ garment: top, past: [], activeVersion: null });
    must(store.commands.setOpeningForAll('front', 20));
    expect(store.getState().activeVersion).toBe(first);
    store.actions.takeDown(null);
    must(store.commands.setOpeningForAll('front', 30));
    expect(store.getState().garment!.versions).toHaveLength(2);
    expect(store.getState().activeVersion).not.toBe(first);
  });

  it('is nothing when there is nothing to take away', () => {
    const store = testStore(top);
    must(store.commands.setFan('front', null));
    must(store.commands.setTrue('front', null));
    must(store.commands.setFinish('front', null));
    expect(store.getState()).toMatchObject({ garment: top, past: [] });
  });
});

describe('fan commands', () => {
  it('change one thing each and leave the rest', () => {
    const store = testStore(top);
    const { commands } = store;
    must(commands.setFan('front', must(defaultFan(top.blocks[0]!, { slashes: 3, opening: 30 }))));
    const start = activeFan(store);
    must(commands.setOpening('front', 's2', 45));
    expect(
      activeFan(store).slashes.map((slash) => (slash.opening.measure === 'chord' ? slash.opening.hem : null)),
    ).toEqual([30, 45, 30]);
    must(commands.moveSlash('front', 's1', 0.2));
    must(commands.tiltSlash('front', 's3', 0.05));
    must(commands.moveFullnessLine('front', 80));
    must(commands.setCentreRule('front', 'slide'));
    expect(activeFan(store)).toEqual({
      ...start,
      centreRule: 'slide',
      fullness: { downSide: 80, tilt: 0 },
      slashes: [
        { ...start.slashes[0]!, across: 0.2 },
        { ...start.slashes[1]!, opening: { measure: 'chord', hem: 45, far: 0 } },
        { ...start.slashes[2]!, tilt: 0.05 },
      ],
    });
    expect(labels(store)).toEqual([
      'Fan the piece',
      'Open a slash line 1 3/4 in',
      'Move a slash line',
      'Tilt a slash line',
      'Fullness line 3 1/8 in down the side',
      'Change the centre rule',
    ]);
  });

  it('space slash lines evenly and keep openings in order', () => {
    const store = testStore(top);
    must(store.commands.setSlashCount('front', 2));
    must(store.commands.setOpening('front', 's1', 20));
    must(store.commands.setOpening('front', 's2', 40));
    must(store.commands.setSlashCount('front', 3));
    expect(
      activeFan(store).slashes.map(({ id, across, opening }) => [id, across, 'hem' in opening && opening.hem]),
    ).toEqual([
      ['s1', 0.25, 20],
      ['s2', 0.5, 40],
      ['s3', 0.75, 40],
    ]);
    must(store.commands.setSlashCount('front', 1));
    expect(activeFan(store).slashes.map(({ id, across }) => [id, across])).toEqual([['s1', 0.5]]);
    for (const count of [0, -1, 1.5, 97, Number.NaN]) {
      expect(store.commands.setSlashCount('front', count)).toMatchObject({ ok: false, code: 'slash-count-wrong' });
    }
  });

  it('keep the way an opening is measured; an angle becomes a straight opening', () => {
    const store = testStore(top);
    const fan = must(defaultFan(top.blocks[0]!, { slashes: 2, opening: 20 }));
    const [a, b] = fan.slashes;
    must(
      store.commands.setFan('front', {
        ...fan,
        slashes: [
          { ...a!, opening: { measure: 'arc', hem: 20 } },
          { ...b!, opening: { measure: 'angle', angle: 0.05 } },
        ],
      }),
    );
    must(store.commands.setOpeningForAll('front', 25));
    expect(activeFan(store).slashes.map((slash) => slash.opening)).toEqual([
      { measure: 'arc', hem: 25 },
      { measure: 'chord', hem: 25, far: 0 },
    ]);
  });

  it('run slash lines right through on a skirt, with half an opening at the side', () => {
    const skirt = draftStraightSkirt();
    const plain: Garment = { ...skirt, blocks: skirt.blocks.map((block) => ({ ...block, darts: [] })) };
    const store = testStore(plain);
    must(store.commands.setFullnessLine('front', null));
    must(store.commands.setSideTurn('front', 20));
    expect(activeFan(store)).toMatchObject({ fullness: null, sideTurn: 20 });
    must(store.commands.setFullnessLine('front', { downSide: 200, tilt: 0 }));
    expect(activeFan(store)).toMatchObject({ fullness: { downSide: 200 }, sideTurn: 0 });
    must(store.commands.moveFullnessLine('front', 180));
    expect(activeFan(store).fullness).toEqual({ downSide: 180, tilt: 0 });
  });

  it('refuse what cannot be and say why', () => {
    const store = testStore(top);
    expect(store.commands.moveSlash('front', 's9', 0.5)).toMatchObject({ ok: false, code: 'slash-unknown' });
    expect(store.commands.moveSlash('front', 's1', 0.9)).toMatchObject({ ok: false, code: 'slashes-out-of-order' });
    expect(store.commands.setOpeningForAll('sleeve', 10)).toMatchObject({ ok: false, code: 'piece-unknown' });
    expect(store.commands.setOpeningForAll('front', 5000).ok).toBe(false);
    expect(store.commands.setOpeningForAll('front', Number.NaN).ok).toBe(false);
    expect(store.commands.moveFullnessLine('front', 9999).ok).toBe(false);
    expect(store.getState()).toMatchObject({ garment: top, past: [], notice: { tone: 'refused' } });
  });

  it('fanOf answers the present fan or the one to start from', () => {
    const store = testStore(top);
    const start = must(store.commands.fanOf('front'));
    // The sample is in inches: the default of 5 cm down and 38.1 mm open comes to whole marks of that tape.
    expect(start.fullness!.downSide).toBeCloseTo(2 * 25.4, 9);
    expect(start.slashes).toHaveLength(must(defaultFan(top.blocks[0]!)).slashes.length);
    for (const { opening } of start.slashes) {
      expect(opening.measure === 'chord' && opening.hem).toBeCloseTo(1.5 * 25.4, 9);
    }
    must(store.commands.setSlashCount('front', 2));
    expect(must(store.commands.fanOf('front'))).toBe(activeFan(store));
    expect(store.commands.fanOf('sleeve')).toMatchObject({ ok: false });
  });

  it('fanOf answers the fan that a preview shows, also while it is about to start a version', () => {
    const store = testStore(top);
    must(store.commands.setSlashCount('front', 2, 'preview'));
    expect(must(store.commands.fanOf('front')).slashes).toHaveLength(2);
  });
});

describe('fanToSweep', () => {
  const sweep = (store: AppStore, steps: 'fan' | 'all') => {
    const { garment, activeVersion } = store.getState();
    const recipe = recipeOf(garment!, activeVersion, 'front').filter((step) => steps === 'all' || step.kind === 'fan');
    return must(workPiece(findBlock(garment!, 'front')!, recipe)).sweepAfter!;
  };

  // Bridged by straight chords the hem grows by exactly the sum of the openings (docs/maths/linkage.md).
  it('opens every slash line by its share of what is missing', () => {
    const store = testStore(top);
    must(store.commands.setSlashCount('front', 4));
    must(store.commands.setOpeningForAll('front', 10));
    const before = must(workPiece(top.blocks[0]!, [])).sweepAfter!;
    must(store.commands.fanToSweep('front', before + 100));
    expect(sweep(store, 'fan')).toBeCloseTo(before + 100, 2);
    const hems = activeFan(store).slashes.map(({ opening }) => ('hem' in opening ? opening.hem : 0));
    expect(hems[1]).toBeCloseTo(hems[0]!, 12);
    expect(labels(store).at(-1)).toMatch(/^Fan to a sweep of \d+/);
  });

  it('keeps the proportion of unequal openings, and opens closed lines equally', () => {
    const store = testStore(top);
    must(store.commands.setSlashCount('front', 2));
    must(store.commands.setOpening('front', 's1', 10));
    must(store.commands.setOpening('front', 's2', 30));
    must(store.commands.fanToSweep('front', 400));
    const [a, b] = activeFan(store).slashes.map(({ opening }) => ('hem' in opening ? opening.hem : 0));
    expect(b! / a!).toBeCloseTo(3, 9);
    must(store.commands.setOpeningForAll('front', 0));
    must(store.commands.fanToSweep('front', 350));
    const [c, d] = activeFan(store).slashes.map(({ opening }) => ('hem' in opening ? opening.hem : 0));
    expect(c).toBeCloseTo(d!, 12);
    expect(sweep(store, 'fan')).toBeCloseTo(350, 2);
  });

  it.each([300, 420, 520, 700])('reaches a trued hem of %d mm to a hundredth', (target) => {
    const store = testStore(top);
    must(store.commands.setSlashCount('front', 5));
    must(store.commands.setTrue('front', defaultTrue()));
    must(store.commands.fanToSweep('front', target));
    expect(Math.abs(sweep(store, 'all') - target)).toBeLessThan(0.01);
  });

  it('refuses a sweep of nothing, and one that no fan can reach', () => {
    const store = testStore(top);
    expect(store.commands.fanToSweep('front', 0)).toMatchObject({ ok: false, code: 'sweep-wrong' });
    expect(store.commands.fanToSweep('front', Number.NaN)).toMatchObject({ ok: false, code: 'sweep-wrong' });
    expect(store.commands.fanToSweep('front', 50_000).ok).toBe(false);
    expect(store.getState().past).toEqual([]);
  });
});

describe('version commands', () => {
  it('start, save as, rename, note, duplicate and delete, each one step', () => {
    const store = testStore(top);
    const { commands, actions } = store;
    must(commands.startVersion());
    must(commands.setOpeningForAll('front', 20));
    must(commands.saveVersionAs('Swing'));
    const swing = store.getState().activeVersion!;
    must(commands.setOpeningForAll('front', 40));
    must(commands.renameVersion(swing, 'Full swing'));
    must(commands.noteVersion(swing, 'Hang a day'));
    must(commands.duplicateVersion(swing));
    must(commands.duplicateVersion(swing));
    expect(store.getState().garment!.versions.map((version) => version.name)).toEqual([
      'Version 1',
      'Full swing',
      'Full swing copy 2',
      'Full swing copy',
    ]);
    const hem = (index: number) => {
      const fan = findStep(store.getState().garment!.versions[index]!.recipes.front!, 'fan')!;
      return 'hem' in fan.slashes[0]!.opening && fan.slashes[0]!.opening.hem;
    };
    expect([hem(0), hem(1), hem(2)]).toEqual([20, 40, 40]);
    must(commands.deleteVersion(swing));
    expect(store.getState().garment!.versions).toHaveLength(3);
    actions.undo();
    expect(store.getState().activeVersion).toBe(swing);
    expect(labels(store)).toEqual([
      'Start a version',
      'Open every slash line 13/16 in',
      'Save as Swing',
      'Open every slash line 1 9/16 in',
      'Rename to Full swing',
      'Write a note',
      'Duplicate a version',
      'Duplicate a version',
    ]);
  });

  it('date a version when it is started, not when the program was', () => {
    const store = testStore(top);
    const { commands } = store;
    must(commands.startVersion());
    must(commands.saveVersionAs('Swing'));
    store.actions.takeDown(null);
    must(commands.saveVersionAs('From the block'));
    store.actions.takeDown(null);
    must(commands.setOpeningForAll('front', 20, 'preview'));
    must(commands.setOpeningForAll('front', 20));
    // The test's clock goes on by a second whenever it is read; the program started at the first.
    const made = store.getState().garment!.versions.map((version) => version.made);
    expect(made[0]! > '2026-01-01T00:00:00.000Z').toBe(true);
    expect(new Set(made).size).toBe(4);
    const inOrder = ['Version 1', 'Swing', 'From the block', 'Version 4'].map(
      (name) => store.getState().garment!.versions.find((version) => version.name === name)!.made,
    );
    expect(inOrder).toEqual([...inOrder].sort());
  });

  it('name versions with the next free number', () => {
    const store = testStore(top);
    must(store.commands.startVersion('Version 2'));
    must(store.commands.startVersion());
    must(store.commands.startVersion(' '));
    expect(store.getState().garment!.versions.map((version) => version.name)).toEqual([
      'Version 2',
      'Version 3',
      'Version 4',
    ]);
    expect(new Set(store.getState().garment!.versions.map((version) => version.id)).size).toBe(3);
  });
});

describe('true, match and finish', () => {
  it('add their steps in working order, and match the back in one step', () => {
    const store = testStore(top);
    const { commands } = store;
    must(commands.setFinish('front', defaultFinish()));
    must(commands.setTrue('front', defaultTrue()));
    must(commands.setOpeningForAll('front', 38.1));
    const { activeVersion } = store.getState();
    expect(recipeOf(store.getState().garment!, activeVersion, 'front').map((step) => step.kind)).toEqual([
      'fan',
      'true',
      'finish',
    ]);
    const steps = store.getState().past.length;
    must(commands.matchPartner('front'));
    expect(store.getState().past).toHaveLength(steps + 1);
    const back = findStep(recipeOf(store.getState().garment!, activeVersion, 'back'), 'fan')!;
    expect(back).toMatchObject({
      centre: 'centre-back',
      side: 'side',
      hem: 'hem',
      fullness: activeFan(store).fullness,
    });
    must(commands.setTrue('front', null));
    expect(recipeOf(store.getState().garment!, activeVersion, 'front').map((step) => step.kind)).toEqual([
      'fan',
      'finish',
    ]);
  });

  it('has nothing to match on the block', () => {
    const store = testStore(top);
    expect(store.commands.matchPartner('front')).toMatchObject({ ok: false, code: 'version-missing' });
    expect(store.getState().notice).toMatchObject({ tone: 'refused' });
  });
});

describe('bringing in', () => {
  const open = { ...top.blocks[0]!, locked: false };

  it('opens an empty sheet, hangs pieces, links seams and locks', () => {
    const store = testStore(top);
    const { commands } = store;
    commands.newGarment('  ', 'cm');
    expect(store.getState()).toMatchObject({
      garment: { name: 'My garment', unit: 'cm', blocks: [] },
      place: 'mark',
      past: [],
    });
    must(commands.addPiece(open));
    must(commands.addPiece({ ...top.blocks[1]!, locked: false }));
    expect(store.getState().activePiece).toBe('back');
    must(commands.linkSeams({ piece: 'front', edge: 'side' }, { piece: 'back', edge: 'side' }));
    must(commands.changeBlock('Rename', 'front', (block) => ({ ...block, name: 'Fore' })));
    must(commands.renameGarment('Tunic'));
    must(commands.setUnit('in'));
    must(commands.lockBlocks());
    expect(commands.changeBlock('Rename', 'front', (block) => ({ ...block, name: 'x' }))).toMatchObject({
      code: 'block-locked',
    });
    expect(commands.changeBlock('Rename', 'sleeve', (block) => block)).toMatchObject({ code: 'piece-unknown' });
    must(commands.unlinkSeams(store.getState().garment!.seamLinks[0]!.id));
    expect(labels(store)).toEqual([
      'Bring in Front',
      'Bring in Back',
      'Note a seam',
      'Rename',
      'Rename the garment',
      'Show lengths in inches',
      'Lock the original',
      'Forget a seam',
    ]);
  });

  it('refuses a redrawing that breaks the outline', () => {
    const store = testStore({ ...top, blocks: [open, top.blocks[1]!] });
    const answer = store.commands.changeBlock(
      'Cut',
      'front',
      (block) => ({ ...block, edges: block.edges.slice(1) }),
      'preview',
    );
    expect(answer).toMatchObject({ ok: false, code: 'outline-gap' });
    expect(store.getState()).toMatchObject({ preview: null, notice: { tone: 'refused' } });
  });
});
