import { describe, expect, it } from 'vitest';
import { tableAt, tablePoint } from '../../src/gestures/frames';
import type { PointerSample } from '../../src/gestures/gesture';
import type { PointerKind } from '../../src/gestures/reach';
import { moved, screenPoint, TableDriver } from './tableDriver';

function pointerAt(kind: PointerKind, id: number, left: number, top: number): PointerSample {
  return { id, kind, at: { left, top }, button: 0, alt: false, shift: false, contact: 20, time: 1 };
}

const bare = tablePoint(-150, -100);

describe('moving about the table', () => {
  it('a plain wheel pushes the sheet, with Ctrl it zooms about the pointer', () => {
    const driver = new TableDriver();
    const before = driver.store.getState().camera;
    driver.send({ type: 'wheel', at: screenPoint(100, 100), across: 0, down: 120, zoom: false });
    const pushed = driver.store.getState().camera;
    expect(pushed.centre.y - before.centre.y).toBeCloseTo(120, 9);
    expect(pushed.pixelsPerMm).toBe(before.pixelsPerMm);
    const held = tableAt(pushed, driver.view, screenPoint(100, 100));
    driver.send({ type: 'wheel', at: screenPoint(100, 100), across: 0, down: -100, zoom: true });
    const zoomed = driver.store.getState().camera;
    expect(zoomed.pixelsPerMm).toBeGreaterThan(pushed.pixelsPerMm);
    expect(tableAt(zoomed, driver.view, screenPoint(100, 100)).across).toBeCloseTo(held.across, 9);
  });

  it.each([
    ['the middle button', { button: 1 }],
    ['the hand on bare table', {}],
  ])('%s pushes the sheet so that it stays under the pointer', (_, held) => {
    const driver = new TableDriver({ zoom: 2 });
    driver.press(bare, held);
    driver.send({ type: 'move', pointer: pointerAt('mouse', 1, 460, 350) });
    const after = tableAt(driver.store.getState().camera, driver.view, screenPoint(460, 350));
    expect(after.across).toBeCloseTo(bare.across, 9);
    expect(after.down).toBeCloseTo(bare.down, 9);
    expect(driver.steps).toBe(0);
  });

  it('with the space bar held a press on a handle pushes the sheet and changes nothing', () => {
    const driver = new TableDriver().fanned();
    const steps = driver.steps;
    driver.send({ type: 'space', held: true });
    const from = driver.handle({ kind: 'fullness-line', piece: 'front' });
    driver.press(from);
    expect(driver.gesture).toBe('pan');
    driver.release(moved(from, 0, 50));
    driver.send({ type: 'space', held: false });
    expect(driver.steps).toBe(steps);
  });

  it('Escape during a push puts the sheet back', () => {
    const driver = new TableDriver();
    const before = driver.store.getState().camera;
    driver.press(bare);
    driver.move(moved(bare, 90, 30));
    expect(driver.store.getState().camera).not.toEqual(before);
    driver.key('Escape');
    expect(driver.store.getState().camera).toEqual(before);
  });

  it('two fingers pinch: the points under them stay under them', () => {
    const driver = new TableDriver({ kind: 'touch' });
    const finger = (id: number, left: number, top: number, type: 'press' | 'move' | 'release') =>
      driver.send({ type, pointer: pointerAt('touch', id, left, top) });
    const at = (left: number, top: number) => tableAt(driver.store.getState().camera, driver.view, { left, top });
    finger(1, 500, 300, 'press');
    finger(2, 700, 300, 'press');
    const [a, b] = [at(500, 300), at(700, 300)];
    finger(1, 400, 350, 'move');
    finger(2, 800, 350, 'move');
    expect(driver.store.getState().camera.pixelsPerMm).toBeCloseTo(2, 9);
    expect(at(400, 350).across).toBeCloseTo(a.across, 9);
    expect(at(800, 350).across).toBeCloseTo(b.across, 9);
    expect(at(800, 350).down).toBeCloseTo(b.down, 9);
    // One finger lifted: the other pushes on.
    finger(2, 800, 350, 'release');
    const held = at(400, 350);
    finger(1, 440, 380, 'move');
    expect(at(440, 380).across).toBeCloseTo(held.across, 9);
    finger(1, 440, 380, 'release');
    expect(driver.gesture).toBeNull();
  });

  it('a second finger turns a drag that had begun into a pinch, and the drag is dropped', () => {
    const driver = new TableDriver({ kind: 'touch' }).fanned();
    const before = driver.store.getState().garment;
    const from = driver.handle({ kind: 'fullness-line', piece: 'front' });
    driver.press(from);
    driver.move(moved(from, 0, 40));
    expect(driver.store.getState().preview).not.toBeNull();
    driver.press(bare, { id: 2 });
    expect(driver.gesture).toBe('pinch');
    expect(driver.store.getState().preview).toBeNull();
    expect(driver.store.getState().garment).toBe(before);
  });
});

describe('pen and palm', () => {
  it('once a pen has been seen a finger on a handle only pushes the sheet', () => {
    const driver = new TableDriver().fanned();
    const from = driver.handle({ kind: 'fullness-line', piece: 'front' });
    driver.press(from, { kind: 'touch', id: 5 });
    expect(driver.gesture).toBe('fullness-line');
    driver.release(from, { kind: 'touch', id: 5 });
    driver.move(bare, { kind: 'pen', id: 9 });
    driver.wait(2000);
    driver.press(from, { kind: 'touch', id: 5 });
    expect(driver.gesture).toBe('pan');
  });

  it('a hand resting on the sheet while the pen draws does nothing at all', () => {
    const driver = new TableDriver().fanned();
    const from = driver.handle({ kind: 'fullness-line', piece: 'front' });
    driver.press(from, { kind: 'pen', id: 9 });
    const camera = driver.store.getState().camera;
    driver.press(bare, { kind: 'touch', id: 5, contact: 40 });
    driver.move(moved(bare, 80, 80), { kind: 'touch', id: 5, contact: 40 });
    expect(driver.store.getState().camera).toBe(camera);
    expect(driver.gesture).toBe('fullness-line');
    driver.move(moved(from, 0, 30), { kind: 'pen', id: 9 });
    driver.release(moved(from, 0, 30), { kind: 'pen', id: 9 });
    expect(driver.store.getState().past.at(-1)!.label).toContain('Fullness line');
  });

  it('a palm laid down just before the pen is let go of when the pen comes', () => {
    const driver = new TableDriver().fanned();
    driver.move(bare, { kind: 'pen', id: 9 });
    driver.wait(2000);
    driver.press(bare, { kind: 'touch', id: 5, contact: 30 });
    expect(driver.gesture).toBe('pan');
    const from = driver.handle({ kind: 'fullness-line', piece: 'front' });
    driver.press(from, { kind: 'pen', id: 9 });
    expect(driver.gesture).toBe('fullness-line');
  });

  it('a broad contact is a palm, a fingertip is not', () => {
    const driver = new TableDriver();
    driver.move(bare, { kind: 'pen', id: 9 });
    driver.wait(2000);
    driver.press(bare, { kind: 'touch', id: 5, contact: 90 });
    expect(driver.gesture).toBeNull();
    driver.press(bare, { kind: 'touch', id: 6, contact: 24 });
    expect(driver.gesture).toBe('pan');
  });
});
