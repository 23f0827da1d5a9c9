import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultFinish } from '../../src/operations/finish';
import { defaultTrue } from '../../src/operations/true';
import type { Garment } from '../../src/pattern/garment';
import { findBlock, findVersion } from '../../src/pattern/lookUp';
import { centreRules } from '../../src/pattern/recipe';
import { validateGarment } from '../../src/pattern/validate';
import type { AppStore, Mode } from '../../src/store/appCommands';
import { shownNow } from '../../src/store/shown';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { testStore } from '../support/testStore';

/** Something a maker may do, told so that a failing sequence can be read. */
interface Act {
  readonly told: string;
  readonly run: (store: AppStore) => void;
}

/** Mostly pieces and measures that make sense; now and then ones that must be refused. */
const piece = fc.oneof(
  { weight: 9, arbitrary: fc.constantFrom('front', 'back') },
  { weight: 1, arbitrary: fc.constant('sleeve') },
);
const mode = fc.constantFrom<Mode>('commit', 'commit', 'preview');
const hem = fc.oneof(
  { weight: 5, arbitrary: fc.double({ min: -10, max: 60, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(0, 1e-9, -1e-9, 38.1, 900, Number.NaN) },
);
const fraction = fc.oneof(
  { weight: 5, arbitrary: fc.double({ min: 0.02, max: 0.98, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(0, 1, -0.5, 1e-12) },
);
const slash = fc.constantFrom('s1', 's2', 's3', 's9');
const name = fc.constantFrom('Swing', 'Full', '', ' ');

function act<Given extends unknown[]>(
  word: string,
  given: { [K in keyof Given]: fc.Arbitrary<Given[K]> },
  run: (store: AppStore, ...values: Given) => unknown,
): fc.Arbitrary<Act> {
  return fc.tuple(...given).map((values) => ({
    told: `${word}(${values.map(String).join(', ')})`,
    run: (store) => void run(store, ...(values as Given)),
  }));
}

/** One of the versions on the rack, or one that is not there. */
const rackPlace = fc.nat({ max: 4 });
function versionAt(store: AppStore, index: number): string {
  return store.getState().garment?.versions[index]?.id ?? 'nowhere';
}

const acts = fc.oneof(
  act('setSlashCount', [piece, fc.integer({ min: 0, max: 6 }), mode], (s, p, n, m) =>
    s.commands.setSlashCount(p, n, m),
  ),
  act('setOpeningForAll', [piece, hem, mode], (s, p, h, m) => s.commands.setOpeningForAll(p, h, m)),
  act('setOpening', [piece, slash, hem, mode], (s, p, l, h, m) => s.commands.setOpening(p, l, h, m)),
  act('moveSlash', [piece, slash, fraction, mode], (s, p, l, a, m) => s.commands.moveSlash(p, l, a, m)),
  act('moveFullnessLine', [piece, hem.map((h) => 50 + 4 * h), mode], (s, p, d, m) =>
    s.commands.moveFullnessLine(p, d, m),
  ),
  act('setCentreRule', [piece, fc.constantFrom(...centreRules), mode], (s, p, r, m) =>
    s.commands.setCentreRule(p, r, m),
  ),
  act('fanToSweep', [piece, fc.double({ min: 200, max: 700, noNaN: true }), mode], (s, p, t, m) =>
    s.commands.fanToSweep(p, t, m),
  ),
  act('setFan(null)', [piece, mode], (s, p, m) => s.commands.setFan(p, null, m)),
  act('setTrue', [piece, fc.boolean(), mode], (s, p, on, m) => s.commands.setTrue(p, on ? defaultTrue() : null, m)),
  act('setFinish', [piece, fc.boolean(), hem, mode], (s, p, on, h, m) =>
    s.commands.setFinish(p, on ? { ...defaultFinish(), seam: h } : null, m),
  ),
  act('matchPartner', [piece], (s, p) => s.commands.matchPartner(p)),
  act('startVersion', [name], (s, n) => s.commands.startVersion(n)),
  act('saveVersionAs', [name], (s, n) => s.commands.saveVersionAs(n)),
  act('renameVersion', [rackPlace, name], (s, i, n) => s.commands.renameVersion(versionAt(s, i), n)),
  act('noteVersion', [rackPlace, name], (s, i, n) => s.commands.noteVersion(versionAt(s, i), n)),
  act('duplicateVersion', [rackPlace], (s, i) => s.commands.duplicateVersion(versionAt(s, i))),
  act('deleteVersion', [rackPlace], (s, i) => s.commands.deleteVersion(versionAt(s, i))),
  act('takeDown', [rackPlace], (s, i) => s.actions.takeDown(i === 4 ? null : versionAt(s, i))),
  act('layGhost', [rackPlace], (s, i) => s.actions.layGhost(i === 4 ? 'block' : versionAt(s, i))),
  act('setUnit', [fc.constantFrom('cm' as const, 'in' as const)], (s, u) => s.commands.setUnit(u)),
  act('changeBlock', [piece], (s, p) =>
    s.commands.changeBlock('Redraw', p, (block) => ({ ...block, name: 'Redrawn' })),
  ),
  act('spoil the block', [], (s) =>
    s.actions.commit('Spoil', (g) => ({ ...g, blocks: g.blocks.map((block) => ({ ...block, cutCount: 2 })) })),
  ),
  act('dropPreview', [], (s) => s.actions.dropPreview()),
  act('undo', [], (s) => s.actions.undo()),
  act('redo', [], (s) => s.actions.redo()),
);

const blocksOf = (garment: Garment) => JSON.stringify(garment.blocks);

describe('any sequence of commands', () => {
  const start = draftSleevelessTop();

  it('R1 R3 R4 R5 keeps every rule and the block, and can be undone and done again in full (2,000 sequences)', () => {
    fc.assert(
      fc.property(fc.array(acts, { minLength: 5, maxLength: 20 }), (sequence) => {
        const store = testStore(start);
        for (const { told, run } of sequence) {
          const before = store.getState();
          run(store);
          const now = store.getState();
          expect(validateGarment(now.garment!), told).toEqual([]);
          expect(blocksOf(now.garment!), told).toBe(blocksOf(start));
          if (now.preview) expect(blocksOf(now.preview), told).toBe(blocksOf(start));
          // One command is at most one step, a preview none.
          expect(Math.abs(now.past.length - before.past.length), told).toBeLessThanOrEqual(1);
          expect(now.past.length === before.past.length ? now.garment : null, told).toBe(
            now.past.length === before.past.length ? before.garment : null,
          );
          // What is on the table is there and can be shown.
          expect(now.activeVersion === null || findVersion(now.garment!, now.activeVersion), told).toBeTruthy();
          expect(findBlock(now.garment!, now.activePiece!), told).toBeTruthy();
          expect(shownNow(now), told).not.toBeNull();
        }
        const end = store.getState().garment;
        const future = store.getState().future.length;
        while (store.getState().past.length > 0) store.actions.undo();
        expect(store.getState().garment).toStrictEqual(start);
        while (store.getState().future.length > future) store.actions.redo();
        expect(store.getState().garment).toStrictEqual(end);
      }),
      { numRuns: 2000 },
    );
  }, 180_000);
});
