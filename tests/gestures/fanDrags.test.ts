import { describe, expect, it } from 'vitest';
import { fanView } from '../../src/gestures/fanView';
import { onTable } from '../../src/gestures/frames';
import type { PointerKind } from '../../src/gestures/reach';
import { activePieceOf } from '../../src/gestures/scene';
import type { FanStep } from '../../src/pattern/recipe';
import { moved, TableDriver } from './tableDriver';

const fullness = { kind: 'fullness-line', piece: 'front' } as const;
const zooms = [0.5, 1, 4];
const kinds: readonly PointerKind[] = ['mouse', 'touch', 'pen'];

function fanOf(driver: TableDriver): FanStep {
  return activePieceOf(driver.scene)!.fan!;
}

describe('dragging the fullness line', () => {
  it.each(zooms.flatMap((zoom) => kinds.map((kind) => ({ zoom, kind }))))(
    'moves it as far as the pointer at $zoom px/mm with a $kind',
    ({ zoom, kind }) => {
      const driver = new TableDriver({ zoom, kind }).fanned();
      const from = driver.handle(fullness);
      // Down the seam itself, so that 20 mm of travel are 20 mm of seam; the side of the sample is a gentle curve.
      driver.drag(from, moved(from, 0, 20), { alt: true });
      expect(fanOf(driver).fullness!.downSide).toBeCloseTo(80, 1);
      const exact = new TableDriver({ zoom: 1 }).fanned();
      exact.drag(from, moved(from, 0, 20), { alt: true });
      expect(fanOf(driver).fullness!.downSide).toBeCloseTo(fanOf(exact).fullness!.downSide, 9);
    },
  );

  it('stops at whole units of the maker, and Alt suspends that', () => {
    const driver = new TableDriver({ zoom: 1 }).fanned();
    driver.store.commands.setUnit('cm');
    const from = driver.handle(fullness);
    driver.drag(from, moved(from, 0, 20.7));
    expect(fanOf(driver).fullness!.downSide % 2).toBe(0);
    const again = driver.handle(fullness);
    driver.drag(again, moved(again, 0, 11.3), { alt: true });
    expect(fanOf(driver).fullness!.downSide % 0.5).not.toBe(0);
  });

  it('R3 one drag is one undo step, and undo brings the document back', () => {
    const driver = new TableDriver().fanned();
    const before = driver.store.getState().garment;
    const steps = driver.steps;
    const from = driver.handle(fullness);
    driver.drag(from, moved(from, 3, 25));
    expect(driver.steps).toBe(steps + 1);
    expect(driver.store.getState().garment).not.toEqual(before);
    driver.store.actions.undo();
    expect(driver.store.getState().garment).toEqual(before);
  });

  it.each(['Escape', 'cancel'] as const)('R3 %s drops the drag and leaves the document as it was', (how) => {
    const driver = new TableDriver().fanned();
    const before = driver.store.getState().garment;
    const steps = driver.steps;
    const from = driver.handle(fullness);
    driver.press(from);
    driver.move(moved(from, 0, 30));
    expect(driver.store.getState().preview).not.toBeNull();
    if (how === 'cancel') driver.cancel();
    else driver.key('Escape');
    expect(driver.store.getState().preview).toBeNull();
    expect(driver.store.getState().garment).toBe(before);
    driver.release(moved(from, 0, 30));
    expect(driver.steps).toBe(steps);
    expect(driver.gesture).toBeNull();
  });

  it('R3 a drag that ends where it began makes no undo step', () => {
    const driver = new TableDriver().fanned();
    const steps = driver.steps;
    const from = driver.handle(fullness);
    driver.press(from);
    driver.move(moved(from, 0, 30));
    driver.move(from);
    driver.release(from);
    expect(driver.steps).toBe(steps);
    expect(driver.store.getState().preview).toBeNull();
  });

  it('a click selects without changing anything', () => {
    const driver = new TableDriver().fanned();
    const steps = driver.steps;
    driver.tap(moved(driver.handle(fullness), 1, 1));
    expect(driver.store.getState().selection).toEqual(fullness);
    expect(driver.steps).toBe(steps);
  });

  it('R3 the preview is the press-time document with the whole change, however the pointer got there', () => {
    const straight = new TableDriver().fanned();
    const wandering = new TableDriver().fanned();
    const from = straight.handle(fullness);
    straight.drag(from, moved(from, 0, 24), { alt: true });
    wandering.press(from, { alt: true });
    for (const down of [80, -10, 33, 5, 61, 24]) wandering.move(moved(from, 0, down), { alt: true });
    wandering.release(moved(from, 0, 24), { alt: true });
    expect(fanOf(wandering)).toEqual(fanOf(straight));
  });
});

describe('dragging a slash line', () => {
  const slash = { kind: 'slash', piece: 'front', slash: '' } as const;

  it.each(zooms)('follows the pointer sideways along its strip at %f px/mm', (zoom) => {
    const driver = new TableDriver({ zoom }).fanned();
    const piece = activePieceOf(driver.scene)!;
    const view = fanView(piece.fanned!, piece.fan!);
    const shown = view.slashes[1]!;
    const target = { ...slash, slash: shown.id };
    const from = driver.handle(target);
    const right = shown.towardsSide.x * 12;
    const down = shown.towardsSide.y * 12;
    driver.drag(from, moved(from, right, down), { alt: true });
    const before = piece.fan!.slashes[1]!.across * view.width;
    expect(fanOf(driver).slashes[1]!.across * view.width).toBeCloseTo(before + 12, 9);
    // The handle itself ends under the pointer: only the hem's curve lets the neighbours' turns shift a little.
    const after = driver.handle(target);
    expect(Math.hypot(after.across - from.across - right, after.down - from.down - down)).toBeLessThan(0.5);
  });

  it('keeps its place between its neighbours', () => {
    const driver = new TableDriver().fanned();
    const { slashes } = fanOf(driver);
    const from = driver.handle({ ...slash, slash: slashes[1]!.id });
    driver.drag(from, moved(from, 900, 0));
    const after = fanOf(driver).slashes;
    expect(after[1]!.across).toBeLessThan(after[2]!.across);
    expect(after[1]!.across).toBeGreaterThan(slashes[1]!.across);
  });
});

describe('dragging an opening at the hem', () => {
  it.each(zooms)('the strip corner stays under the pointer at %f px/mm when one slash opens alone', (zoom) => {
    const driver = new TableDriver({ zoom }).fanned();
    const { id } = fanOf(driver).slashes[2]!;
    const from = driver.handle({ kind: 'opening', piece: 'front', slash: id });
    // Swinging about the side hinge: take a true point of that swing as the target.
    const piece = activePieceOf(driver.scene)!;
    const hinge = onTable(fanView(piece.fanned!, piece.fan!).sideHinge!, piece.offset);
    const turn = -0.04;
    const arm = { x: from.across - hinge.across, y: from.down - hinge.down };
    const to = {
      across: hinge.across + Math.cos(turn) * arm.x - Math.sin(turn) * arm.y,
      down: hinge.down + Math.sin(turn) * arm.x + Math.cos(turn) * arm.y,
    };
    driver.drag(from, to, { alt: true, shift: true });
    const after = driver.handle({ kind: 'opening', piece: 'front', slash: id });
    expect(Math.hypot(after.across - to.across, after.down - to.down)).toBeLessThan(1e-3);
    const { slashes } = fanOf(driver);
    const radius = activePieceOf(driver.scene)!.fanned!.cuts.find((cut) => cut.id === id)!.radius!;
    // Opened from 40 mm by 0.04 rad: chord = 2 r sin(angle / 2), arithmetic anyone can redo.
    const angle = 2 * Math.asin(40 / (2 * radius)) + 0.04;
    const opening = slashes[2]!.opening;
    expect(opening.measure === 'chord' && opening.hem).toBeCloseTo(2 * radius * Math.sin(angle / 2), 3);
    expect(slashes[1]!.opening).toEqual({ measure: 'chord', hem: 40, far: 0 });
  });

  it('equal openings stay equal', () => {
    const driver = new TableDriver().fanned();
    const { id } = fanOf(driver).slashes[3]!;
    const from = driver.handle({ kind: 'opening', piece: 'front', slash: id });
    driver.drag(from, moved(from, 60, -20));
    const openings = fanOf(driver).slashes.map((line) => line.opening);
    expect(new Set(openings.map((opening) => JSON.stringify(opening))).size).toBe(1);
    expect(openings[0]).not.toEqual({ measure: 'chord', hem: 40, far: 0 });
  });

  it('R1 on the untouched block it starts a version and leaves the block alone', () => {
    const driver = new TableDriver();
    driver.store.actions.goTo('fan');
    const blocks = driver.store.getState().garment!.blocks;
    const { id } = fanOf(driver).slashes[3]!;
    const from = driver.handle({ kind: 'opening', piece: 'front', slash: id });
    driver.drag(from, moved(from, 30, -5));
    expect(driver.store.getState().garment!.versions).toHaveLength(1);
    expect(driver.store.getState().garment!.blocks).toEqual(blocks);
    expect(driver.steps).toBe(1);
  });
});
