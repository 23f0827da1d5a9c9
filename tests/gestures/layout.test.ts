import { describe, expect, it } from 'vitest';
import { layOut } from '../../src/gestures/layout';
import { moved, TableDriver } from './tableDriver';

const piece = (id: string, minX: number, maxX: number, minY = 0, maxY = 600) => ({
  id,
  bounds: { minX, minY, maxX, maxY },
  top: minY,
  left: minX,
});

describe('pieces on the table', () => {
  it('lie side by side without touching, tops level, the first at zero', () => {
    const { offsets, sheet, pieces } = layOut([
      piece('a', -20, 230, -634, 0),
      piece('b', 300, 560),
      piece('c', -400, -100),
    ]);
    expect(offsets.get('a')).toEqual({ across: 20, down: 634 });
    const left = (id: string, minX: number) => offsets.get(id)!.across + minX;
    expect(left('b', 300)).toBeGreaterThanOrEqual(250 + 60);
    expect(left('c', -400)).toBeGreaterThanOrEqual(left('b', 560) + 60);
    expect(sheet.minX).toBeLessThan(pieces.minX);
    expect(sheet.maxX).toBeGreaterThan(pieces.maxX);
  });

  it('a piece whose strips swing out to the left keeps clear of its neighbour', () => {
    const swung = { ...piece('b', -180, 250), left: 0 };
    const { offsets } = layOut([piece('a', 0, 250), swung]);
    expect(offsets.get('b')!.across - 180).toBeGreaterThanOrEqual(250);
  });

  it('nothing moves while something is dragged; neighbours make room after the release', () => {
    const driver = new TableDriver().fanned();
    const { id } = driver.scene.pieces[0]!.fan!.slashes[3]!;
    const from = driver.handle({ kind: 'opening', piece: 'front', slash: id });
    const before = driver.scene.layout;
    driver.press(from);
    driver.move(moved(from, 250, -150));
    expect(driver.store.getState().preview).not.toBeNull();
    expect(driver.scene.layout).toBe(before);
    driver.release(moved(from, 250, -150));
    const after = driver.scene.layout;
    expect(after.offsets.get('front')).toEqual(before.offsets.get('front'));
    expect(after.offsets.get('back')!.across).toBeGreaterThan(before.offsets.get('back')!.across);
  });

  it('pieces that a drag does not touch stay the same objects', () => {
    const driver = new TableDriver().fanned();
    const back = driver.scene.pieces.find((one) => one.id === 'back');
    const from = driver.handle({ kind: 'fullness-line', piece: 'front' });
    driver.press(from);
    driver.move(moved(from, 0, 40));
    expect(driver.scene.pieces.find((one) => one.id === 'back')).toBe(back);
  });
});
