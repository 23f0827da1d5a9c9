import { describe, expect, it } from 'vitest';
import { pathPointAt } from '../../src/geometry/path';
import { fan } from '../../src/operations/fan';
import { findBlock, findStep, recipeOf } from '../../src/pattern/lookUp';
import type { FanStep } from '../../src/pattern/recipe';
import type { AppStore } from '../../src/store/appCommands';
import { usualFan, usualFinish, usualTrue } from '../../src/store/usualSteps';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { must, testStore } from '../support/testStore';

const top = draftSleevelessTop();

function fanned(): AppStore {
  const store = testStore(top);
  must(store.commands.setSlashCount('front', 3));
  must(store.commands.setOpeningForAll('front', 40));
  return store;
}

function fanNow(store: AppStore): FanStep {
  const { garment, activeVersion } = store.getState();
  return findStep(recipeOf(garment!, activeVersion, 'front'), 'fan')!;
}

/** Where the strips lie: the start of every fanned edge. */
function strips(store: AppStore) {
  const { edges } = must(fan(findBlock(store.getState().garment!, 'front')!, fanNow(store)));
  return edges.flatMap(({ segments }) => segments.map(({ segment }) => pathPointAt([segment], 0).point));
}

describe('R12 the measure an opening is given in', () => {
  it.each(['arc', 'angle', 'chord'] as const)('changed to %s, leaves every strip where it is', (measure) => {
    const store = fanned();
    const before = strips(store);
    must(store.commands.setOpeningMeasure('front', 'angle'));
    must(store.commands.setOpeningMeasure('front', measure));
    expect(fanNow(store).slashes.map(({ opening }) => opening.measure)).toEqual([measure, measure, measure]);
    const after = strips(store);
    expect(after).toHaveLength(before.length);
    for (const [index, p] of after.entries()) {
      expect(Math.hypot(p.x - before[index]!.x, p.y - before[index]!.y)).toBeLessThan(1e-9);
    }
  });

  it('an arc is its turn times its radius, and longer than the straight opening', () => {
    const store = fanned();
    const [cut] = must(fan(findBlock(top, 'front')!, fanNow(store))).cuts.filter(({ id }) => id === 's1');
    must(store.commands.setOpeningMeasure('front', 'arc'));
    const { opening } = fanNow(store).slashes[0]!;
    // Closed form: chord = 2 r sin(a / 2), arc = r a.
    const turn = 2 * Math.asin(40 / (2 * cut!.radius!));
    expect(opening).toEqual({ measure: 'arc', hem: expect.closeTo(cut!.radius! * turn, 9) });
    expect(cut!.radius! * turn).toBeGreaterThan(40);
  });

  it('a turn is set for one slash line or for all', () => {
    const store = fanned();
    must(store.commands.setTurn('front', 's2', 0.1));
    expect(fanNow(store).slashes.map(({ opening }) => opening.measure)).toEqual(['chord', 'angle', 'chord']);
    must(store.commands.setTurn('front', null, -0.02));
    expect(fanNow(store).slashes.map(({ opening }) => opening)).toEqual(
      Array.from({ length: 3 }, () => ({ measure: 'angle', angle: -0.02 })),
    );
    expect(store.getState().past.at(-1)!.label).toBe('Turn every slash line -1.1°');
  });

  it('stays straight where a line opens at both ends', () => {
    const store = fanned();
    must(store.commands.setFullnessLine('front', null));
    const step = fanNow(store);
    const open = step.slashes.map((line) => ({ ...line, opening: { measure: 'chord', hem: 40, far: 5 } as const }));
    must(store.commands.setFan('front', { ...step, slashes: open }));
    expect(store.commands.setOpeningMeasure('front', 'arc')).toMatchObject({ ok: false, code: 'opens-at-both-ends' });
    expect(fanNow(store).slashes[0]!.opening.measure).toBe('chord');
  });
});

describe('going back to a fullness line', () => {
  it('closes far ends and takes back the turn of the side, which cannot be with it', () => {
    const store = fanned();
    must(store.commands.setFullnessLine('front', null));
    const step = fanNow(store);
    const open = step.slashes.map((line) => ({ ...line, opening: { measure: 'chord', hem: 40, far: 5 } as const }));
    must(store.commands.setFan('front', { ...step, sideTurn: 10, slashes: open }));
    must(store.commands.setFullnessLine('front', { downSide: 60, tilt: 0 }));
    expect(fanNow(store)).toMatchObject({ sideTurn: 0, fullness: { downSide: 60 } });
    expect(fanNow(store).slashes.map(({ opening }) => opening)).toEqual(
      Array.from({ length: 3 }, () => ({ measure: 'chord', hem: 40, far: 0 })),
    );
  });
});

describe('what a piece starts with', () => {
  const inch = 25.4;
  const front = findBlock(top, 'front')!;

  it('lies on the marks of the maker’s tape', () => {
    const inches = must(usualFan(front, 'in'));
    expect(inches.fullness!.downSide).toBeCloseTo(2 * inch, 9);
    expect(inches.slashes[0]!.opening).toEqual({ measure: 'chord', hem: expect.closeTo(1.5 * inch, 9), far: 0 });
    const metric = must(usualFan(front, 'cm'));
    expect(metric.fullness!.downSide).toBe(50);
    expect(metric.slashes[0]!.opening).toEqual({ measure: 'chord', hem: 40, far: 0 });
    expect(usualTrue('in').side.up / (inch / 8)).toBeCloseTo(Math.round(usualTrue('in').side.up / (inch / 8)), 9);
    expect(usualFinish('in')).toMatchObject({
      seam: expect.closeTo((5 / 8) * inch, 9),
      hem: expect.closeTo((3 / 4) * inch, 9),
    });
    expect(usualFinish('cm')).toMatchObject({ seam: 15, hem: 20 });
  });

  it('the command that answers it gives the same, in the garment’s unit', () => {
    const skirt = draftStraightSkirt();
    const store = testStore({ ...skirt, unit: 'in' });
    const { id } = skirt.blocks[0]!;
    expect(store.commands.fanOf(id)).toEqual(usualFan(skirt.blocks[0]!, 'in'));
  });
});
