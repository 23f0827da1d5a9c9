import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recipeOf } from '../../src/pattern/lookUp';
import { shownNow } from '../../src/store/shown';
import { createAppStore } from '../../src/store/store';
import { must } from '../support/testStore';
import { sampleGarment } from '../support/uiHarness';

function onTable() {
  const store = createAppStore();
  store.actions.openGarment({ ...sampleGarment('straight-skirt'), unit: 'cm', versions: [] });
  must(store.commands.startVersion('Flared'));
  return store;
}

const front = (store: ReturnType<typeof onTable>) =>
  shownNow(store.getState())!.report.pieces.find(({ block }) => block.id === 'front')!;

describe('closing and opening a dart again', () => {
  it('R36 R3 however it was closed and slashed in between, left open it is the piece as it was; undone, each step is as it was', () => {
    const step = fc.oneof(
      fc.record({ share: fc.double({ min: 0, max: 1, noNaN: true }) }),
      fc.record({ foot: fc.option(fc.double({ min: 0.3, max: 0.7, noNaN: true }), { nil: null }) }),
    );
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), (steps) => {
        const store = onTable();
        const before = front(store);
        const seen = [store.getState().garment];
        must(store.commands.closeDart('front', 'waist-dart', 1));
        seen.push(store.getState().garment);
        for (const one of steps) {
          if ('share' in one) must(store.commands.closeDart('front', 'waist-dart', one.share));
          else must(store.commands.setDartFoot('front', 'waist-dart', one.foot));
          if (store.getState().garment !== seen.at(-1)) seen.push(store.getState().garment);
        }
        must(store.commands.closeDart('front', 'waist-dart', 0));
        const { garment, activeVersion } = store.getState();
        expect(recipeOf(garment!, activeVersion, 'front')).toEqual([]);
        expect(front(store)).toEqual(before);
        if (garment !== seen.at(-1)) store.actions.undo();
        while (seen.length > 0) {
          expect(store.getState().garment).toEqual(seen.pop());
          if (seen.length > 0) store.actions.undo();
        }
      }),
      { numRuns: 25 },
    );
  });

  it('R36 the share and the start of the slash are changed each by itself', () => {
    const store = onTable();
    must(store.commands.closeDart('front', 'waist-dart', 1));
    must(store.commands.setDartFoot('front', 'waist-dart', 0.4));
    must(store.commands.closeDart('front', 'waist-dart', 0.5));
    const { garment, activeVersion } = store.getState();
    expect(recipeOf(garment!, activeVersion, 'front')).toMatchObject([{ share: 0.5, foot: 0.4 }]);
    must(store.commands.setDartFoot('front', 'waist-dart', null));
    expect(front(store).fanned!.closed!.darts[0]).toMatchObject({ share: 0.5 });
  });

  it('R36 says what is done with the dart, and a preview leaves no step', () => {
    const store = onTable();
    const steps = store.getState().past.length;
    must(store.commands.closeDart('front', 'waist-dart', 0.4, 'preview'));
    expect(front(store).fanned!.closed!.darts[0]!.share).toBe(0.4);
    expect(store.getState().past).toHaveLength(steps);
    must(store.commands.closeDart('front', 'waist-dart', 0.4));
    must(store.commands.closeDart('front', 'waist-dart', 0, 'preview'));
    expect(front(store).fanned).toBeNull();
    expect(store.getState().past).toHaveLength(steps + 1);
    must(store.commands.closeDart('front', 'waist-dart', 0));
    expect(
      store
        .getState()
        .past.slice(steps)
        .map(({ label }) => label),
    ).toEqual(['Close 40 % of a dart', 'Leave the dart open']);
  });
});
