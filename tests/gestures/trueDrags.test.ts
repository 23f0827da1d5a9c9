import { describe, expect, it } from 'vitest';
import { activePieceOf } from '../../src/gestures/scene';
import { trueView } from '../../src/gestures/trueView';
import { defaultTrue } from '../../src/operations/true';
import { must } from '../support/testStore';
import { moved, TableDriver } from './tableDriver';

function trued(zoom = 1): TableDriver {
  const driver = new TableDriver({ zoom }).fanned();
  must(driver.store.commands.setTrue('front', defaultTrue()));
  driver.store.actions.goTo('true');
  return driver;
}

const view = (driver: TableDriver) => {
  const piece = activePieceOf(driver.scene)!;
  return trueView(piece.worked, piece.fan)!;
};
const step = (driver: TableDriver) => activePieceOf(driver.scene)!.trueing!;

describe('dragging the trued hem', () => {
  it('finds the hem corners, handles and the blend where they are', () => {
    const driver = trued();
    const { ends, blend, hem } = view(driver);
    const report = activePieceOf(driver.scene)!.worked.trued!;
    expect(ends.centre.handleLength).toBeCloseTo(report.handles.centre, 9);
    expect(Math.hypot(ends.side.handle.x - ends.side.corner.x, ends.side.handle.y - ends.side.corner.y)).toBeCloseTo(
      report.handles.side,
      9,
    );
    // With one span the end handle is the curve's own control point.
    const first = hem[0]!;
    const corners = [ends.centre.corner, ends.side.corner];
    expect(corners).toContainEqual(first.start);
    expect(ends.centre.angle).toBeCloseTo(Math.PI / 2, 6);
    expect(blend.length).toBeGreaterThan(0);
  });

  it.each([0.5, 1, 4])('a handle follows the pointer along its own direction at %f px/mm', (zoom) => {
    const driver = trued(zoom);
    const { into, handleLength } = view(driver).ends.centre;
    const target = { kind: 'hem-handle', piece: 'front', end: 'centre' } as const;
    const from = driver.handle(target);
    const steps = driver.steps;
    driver.drag(from, moved(from, into.x * 25, into.y * 25), { alt: true });
    expect(step(driver).hem.handles.centre).toBeCloseTo(handleLength + 25, 9);
    expect(step(driver).hem.handles.side).toBeNull();
    expect(view(driver).ends.centre.handleLength).toBeCloseTo(handleLength + 25, 6);
    expect(driver.steps).toBe(steps + 1);
  });

  it('pulling the side corner down along the seam adds that length there', () => {
    const driver = trued();
    const { longer } = view(driver).ends.side;
    const from = driver.handle({ kind: 'hem-drop', piece: 'front', end: 'side' });
    driver.drag(from, moved(from, longer.x * 18, longer.y * 18), { alt: true });
    expect(step(driver).hem.drop).toEqual({ centre: 0, side: expect.closeTo(18, 9) });
    const after = driver.handle({ kind: 'hem-drop', piece: 'front', end: 'side' });
    expect(Math.hypot(after.across - from.across, after.down - from.down)).toBeCloseTo(18, 0);
  });

  it('a handle never becomes nothing', () => {
    const driver = trued();
    const { into } = view(driver).ends.centre;
    const from = driver.handle({ kind: 'hem-handle', piece: 'front', end: 'centre' });
    driver.drag(from, moved(from, into.x * -2000, into.y * -2000));
    expect(step(driver).hem.handles.centre ?? 0).toBeGreaterThan(0);
  });
});
