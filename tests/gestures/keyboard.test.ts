import { describe, expect, it } from 'vitest';
import { handlesOf } from '../../src/gestures/handles';
import { cameraForKey, type Direction, nextHandle, nudge, nudgeStep } from '../../src/gestures/keyboard';
import { activePieceOf } from '../../src/gestures/scene';
import { defaultTrue } from '../../src/operations/true';
import type { Selection } from '../../src/store/appState';
import { must } from '../support/testStore';
import { TableDriver } from './tableDriver';

function press(driver: TableDriver, selection: Selection, direction: Direction, step: number): boolean {
  const order = nudge(driver.scene, selection, direction, step);
  if (order === null) return false;
  must(order(driver.store.commands, 'commit'));
  return true;
}

const fanOf = (driver: TableDriver) => activePieceOf(driver.scene)!.fan!;

describe('moving things with the arrows', () => {
  it('1 mm or 1/16 in, ten times that with Shift', () => {
    expect(nudgeStep('cm', false)).toBe(1);
    expect(nudgeStep('mm', true)).toBe(10);
    expect(nudgeStep('in', false)).toBeCloseTo(1.5875, 12);
    expect(nudgeStep('in', true)).toBeCloseTo(15.875, 12);
  });

  it('everything that can be dragged in the Fan place moves by exactly one step, one undo step each', () => {
    const driver = new TableDriver().fanned();
    const steps = driver.steps;
    expect(press(driver, { kind: 'fullness-line', piece: 'front' }, 'down', 1)).toBe(true);
    expect(fanOf(driver).fullness!.downSide).toBe(61);
    const { id, across } = fanOf(driver).slashes[1]!;
    expect(press(driver, { kind: 'slash', piece: 'front', slash: id }, 'right', 10)).toBe(true);
    expect(fanOf(driver).slashes[1]!.across).toBeGreaterThan(across);
    expect(press(driver, { kind: 'slash', piece: 'front', slash: id }, 'left', 10)).toBe(true);
    expect(fanOf(driver).slashes[1]!.across).toBeCloseTo(across, 9);
    expect(press(driver, { kind: 'opening', piece: 'front', slash: id }, 'up', 1)).toBe(true);
    expect(fanOf(driver).slashes.map((line) => line.opening)).toEqual(
      Array(4).fill({ measure: 'chord', hem: 41, far: 0 }),
    );
    expect(driver.steps).toBe(steps + 4);
  });

  it('an arrow across the way a thing moves does nothing', () => {
    const driver = new TableDriver().fanned();
    expect(press(driver, { kind: 'fullness-line', piece: 'front' }, 'left', 1)).toBe(false);
    const { id } = fanOf(driver).slashes[1]!;
    expect(press(driver, { kind: 'slash', piece: 'front', slash: id }, 'down', 1)).toBe(false);
  });

  it('on a piece with its centre at the right, right still means right', () => {
    const driver = new TableDriver();
    must(driver.store.commands.startVersion('Swing'));
    must(driver.store.commands.setSlashCount('back', 3));
    driver.store.actions.pickPiece('back');
    driver.store.actions.goTo('fan');
    const slash = fanOf(driver).slashes[1]!;
    const selection = { kind: 'slash', piece: 'back', slash: slash.id } as const;
    const before = driver.handle(selection);
    press(driver, selection, 'right', 5);
    expect(driver.handle(selection).across).toBeGreaterThan(before.across + 3);
  });

  it('the hem is lengthened with down and its handles pulled with the arrow along them', () => {
    const driver = new TableDriver().fanned();
    must(driver.store.commands.setTrue('front', defaultTrue()));
    driver.store.actions.goTo('true');
    expect(press(driver, { kind: 'hem-drop', piece: 'front', end: 'centre' }, 'down', 10)).toBe(true);
    expect(activePieceOf(driver.scene)!.trueing!.hem.drop.centre).toBe(10);
    const before = activePieceOf(driver.scene)!.worked.trued!.handles.centre;
    expect(press(driver, { kind: 'hem-handle', piece: 'front', end: 'centre' }, 'right', 10)).toBe(true);
    expect(activePieceOf(driver.scene)!.trueing!.hem.handles.centre).toBeCloseTo(before + 10, 9);
  });
});

describe('visiting the handles with Tab', () => {
  it('comes by every handle once, forwards and backwards, and then lets go', () => {
    const driver = new TableDriver().fanned();
    const all = handlesOf(driver.scene);
    expect(all).toHaveLength(1 + 2 * 4);
    const seen: Selection[] = [];
    for (let next = nextHandle(driver.scene, false); next !== null; next = nextHandle(driver.scene, false)) {
      seen.push(next.selection);
      driver.store.actions.select(next.selection);
      expect(next.sentence.length).toBeGreaterThan(8);
    }
    expect(seen).toEqual(all.map((handle) => handle.selection));
    driver.store.actions.select(null);
    expect(nextHandle(driver.scene, true)!.selection).toEqual(all.at(-1)!.selection);
  });
});

describe('the camera by keyboard', () => {
  it('zooms with + and -, pans with arrows, and leaves other keys alone', () => {
    const { scene } = new TableDriver();
    expect(cameraForKey('+', scene)!.pixelsPerMm).toBeCloseTo(1.25, 12);
    expect(cameraForKey('-', scene)!.pixelsPerMm).toBeCloseTo(0.8, 12);
    expect(cameraForKey('ArrowRight', scene)!.centre.x).toBeCloseTo(260, 9);
    expect(cameraForKey('q', scene)).toBeNull();
  });
});
