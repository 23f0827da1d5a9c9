import { describe, expect, it } from 'vitest';
import { distance, point } from '../../src/geometry/point';
import { nudge } from '../../src/gestures/keyboard';
import { activePieceOf } from '../../src/gestures/scene';
import { closingsOf } from '../../src/pattern/closings';
import { recipeOf } from '../../src/pattern/lookUp';
import { validateMarks } from '../../src/pattern/validateMarks';
import { must } from '../support/testStore';
import { sampleGarment, TableDriver } from './tableDriver';

const selection = { kind: 'dart-opening', piece: 'front', dart: 'waist-dart' } as const;

/** The straight skirt, its front dart closed, in the Fan place. */
function closed(share = 1): TableDriver {
  const driver = new TableDriver({ garment: { ...sampleGarment('straight-skirt'), unit: 'cm', versions: [] } });
  must(driver.store.commands.startVersion('Flared'));
  must(driver.store.commands.closeDart('front', 'waist-dart', share));
  driver.store.actions.pickPiece('front');
  driver.store.actions.goTo('fan');
  return driver;
}

const shareOf = ({ store }: TableDriver) => {
  const { garment, activeVersion } = store.getState();
  return closingsOf(recipeOf(garment!, activeVersion, 'front'))[0]?.share ?? 0;
};
const shown = (driver: TableDriver) => activePieceOf(driver.scene)!.fanned!.closed?.darts[0];

describe('the hem corner below a closed dart', () => {
  it('R36 R3 is dragged round the dart’s point: live, one step on release', () => {
    const driver = closed();
    const steps = driver.steps;
    const { wedge, opening } = shown(driver)!;
    const from = driver.handle(selection);
    const chord = { x: wedge.sideFoot.x - wedge.centreFoot.x, y: wedge.sideFoot.y - wedge.centreFoot.y };
    const half = { across: from.across - chord.x / 2, down: from.down - chord.y / 2 };
    driver.press(from);
    driver.move({ across: from.across - 20, down: from.down });
    driver.move(half, { alt: true });
    expect(driver.steps).toBe(steps);
    expect(shown(driver)!.opening).toBeLessThan(opening);
    driver.release(half, { alt: true });
    expect(driver.steps).toBe(steps + 1);
    // The middle of the chord lies at half the angle, wherever along that line the pointer stands.
    expect(shareOf(driver)).toBeCloseTo(0.5, 2);
    expect(distance(shown(driver)!.wedge.sideFoot, wedge.sideFoot)).toBeGreaterThan(10);
  });

  it('R3 Escape puts it back', () => {
    const driver = closed();
    const from = driver.handle(selection);
    const steps = driver.steps;
    driver.press(from);
    driver.move({ across: from.across - 40, down: from.down });
    driver.key('Escape');
    expect(shareOf(driver)).toBe(1);
    expect(driver.store.getState().preview).toBeNull();
    expect(driver.steps).toBe(steps);
  });

  it('R36 goes no further than the whole dart and no less than none of it', () => {
    const driver = closed(0.5);
    const from = driver.handle(selection);
    driver.drag(from, { across: from.across + 150, down: from.down });
    expect(shareOf(driver)).toBe(1);
    const far = driver.handle(selection);
    driver.drag(far, { across: far.across - 300, down: far.down });
    expect(shareOf(driver)).toBe(0);
    expect(shown(driver)).toBeUndefined();
  });

  it('arrow keys open and close it by 1 mm at the hem', () => {
    const driver = closed(0.5);
    const before = shown(driver)!.opening;
    const order = nudge(driver.scene, selection, 'right', 1)!;
    must(order(driver.store.commands, 'commit'));
    expect(shown(driver)!.opening).toBeCloseTo(before + 1, 9);
  });

  it('R9 undo gives the open dart back', () => {
    const driver = closed();
    driver.store.actions.undo();
    expect(shareOf(driver)).toBe(0);
  });
});

describe('a marked dart taken hold of', () => {
  function marking(): TableDriver {
    const garment = sampleGarment('straight-skirt');
    const blocks = garment.blocks.map((block) => ({ ...block, locked: false }));
    const driver = new TableDriver({ garment: { ...garment, unit: 'cm', versions: [], blocks } });
    driver.store.actions.pickPiece('front');
    driver.store.actions.goTo('mark');
    return driver;
  }
  const dart = (driver: TableDriver) => driver.store.getState().garment!.blocks[0]!.darts[0]!;
  const end = (which: 'apex' | 'first' | 'second') =>
    ({ kind: 'dart-end', piece: 'front', dart: 'waist-dart', end: which }) as const;

  it('its point follows the pointer, its mouth stays; one step', () => {
    const driver = marking();
    const before = dart(driver);
    const from = driver.handle(end('apex'));
    driver.drag(from, { across: from.across + 7.3, down: from.down + 12.1 }, { alt: true });
    const after = dart(driver);
    expect(distance(after.apex, point(before.apex.x + 7.3, before.apex.y + 12.1))).toBeLessThan(1e-6);
    expect(distance(after.legs[0], before.legs[0])).toBeLessThan(1e-6);
    expect(driver.steps).toBe(1);
    driver.store.actions.undo();
    expect(dart(driver)).toEqual(before);
  });

  it('an end of its mouth slides along the edge', () => {
    const driver = marking();
    const before = dart(driver);
    const from = driver.handle(end('second'));
    driver.drag(from, { across: from.across - 8, down: from.down - 30 }, { alt: true });
    const after = dart(driver);
    expect(distance(...after.legs)).toBeCloseTo(distance(...before.legs) + 8, 0);
    expect(distance(after.legs[0], before.legs[0])).toBeLessThan(1e-6);
    expect(after.apex).toEqual(before.apex);
  });

  it('out of the piece it is not followed: the last place where it is a dart stays', () => {
    const driver = marking();
    const before = dart(driver);
    const from = driver.handle(end('apex'));
    driver.drag(from, { across: from.across, down: from.down - 400 }, { alt: true });
    const block = driver.store.getState().garment!.blocks[0]!;
    expect(validateMarks(block)).toEqual([]);
    expect(distance(dart(driver).apex, before.apex)).toBeLessThan(100);
  });
});
