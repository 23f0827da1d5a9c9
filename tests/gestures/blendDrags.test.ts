import { describe, expect, it } from 'vitest';
import { nearestOnPath } from '../../src/geometry/nearest';
import { distance } from '../../src/geometry/point';
import { blendView } from '../../src/gestures/blendView';
import { nudge } from '../../src/gestures/keyboard';
import { activePieceOf } from '../../src/gestures/scene';
import { trueView } from '../../src/gestures/trueView';
import { defaultTrue } from '../../src/operations/true';
import { must } from '../support/testStore';
import { moved, TableDriver } from './tableDriver';

function trued(blend: { up: number; down: number }, piece = 'front'): TableDriver {
  const driver = new TableDriver({ zoom: 2 }).fanned();
  const usual = defaultTrue();
  must(driver.store.commands.setTrue('front', { ...usual, side: { ...usual.side, ...blend } }));
  if (piece !== 'front') {
    must(driver.store.commands.matchPartner('front'));
    driver.store.actions.pickPiece(piece);
  }
  driver.store.actions.goTo('true');
  return driver;
}

const view = (driver: TableDriver) => blendView(activePieceOf(driver.scene)!)!;
const side = (driver: TableDriver) => activePieceOf(driver.scene)!.trueing!.side;
const upper = { kind: 'blend', piece: 'front', end: 'up' } as const;
const lower = { kind: 'blend', piece: 'front', end: 'down' } as const;

describe('dragging the ends of the side seam’s blend', () => {
  it.each(['front', 'back'])(
    'they lie at the typed distances from the hinge of the %s, on the blend’s own ends',
    (id) => {
      const driver = trued({ up: 40, down: 80 }, id);
      const { ends } = view(driver);
      expect(ends.up.length).toBeCloseTo(40, 6);
      expect(ends.down.length).toBeCloseTo(80, 6);
      const piece = activePieceOf(driver.scene)!;
      const { blend } = trueView(piece.worked, piece.fan)!;
      const tips = [blend[0]!.start, blend.at(-1)!.end];
      for (const end of [ends.up, ends.down])
        expect(Math.min(...tips.map((tip) => distance(tip, end.at)))).toBeLessThan(1e-9);
      // Below the hinge is nearer the hem.
      expect(ends.down.at.y).toBeGreaterThan(ends.up.at.y);
    },
  );

  it('the lower end follows the pointer along the seam, in one undo step, and the other end stays', () => {
    const driver = trued({ up: 40, down: 80 });
    const { seam, hinge, ends } = view(driver);
    const from = driver.handle(lower);
    const steps = driver.steps;
    driver.drag(from, moved(from, 12, 30), { alt: true });
    const target = { x: ends.down.at.x + 12, y: ends.down.at.y + 30 };
    const wanted = Math.abs(nearestOnPath(seam, target).along - hinge);
    expect(wanted).toBeGreaterThan(100);
    expect(side(driver)).toEqual({ up: 40, down: expect.closeTo(wanted, 9), fullness: 0.8 });
    expect(driver.steps).toBe(steps + 1);
  });

  it('past the hinge there is no blend, and both ends can still be taken hold of', () => {
    const driver = trued({ up: 40, down: 80 });
    const from = driver.handle(upper);
    driver.drag(from, moved(from, 0, 400));
    expect(side(driver).up).toBe(0);
    expect(driver.handle(upper)).toEqual(expect.objectContaining({ across: expect.any(Number) }));
    expect(view(driver).ends.down.length).toBe(80);
  });

  it('where the seam is shorter than the typed length, the handle is where the blend really ends', () => {
    const driver = trued({ up: 400, down: 80 });
    const { ends } = view(driver);
    expect(ends.up.length).toBeCloseTo(60, 6);
  });

  it('Escape while dragging puts it back', () => {
    const driver = trued({ up: 40, down: 80 });
    const from = driver.handle(lower);
    driver.press(from);
    driver.move(moved(from, 10, 60));
    expect(side(driver).down).not.toBe(80);
    driver.key('Escape');
    expect(side(driver).down).toBe(80);
    expect(driver.store.getState().preview).toBeNull();
  });

  it('arrow keys lengthen an end away from the hinge', () => {
    const driver = trued({ up: 40, down: 80 });
    must(nudge(driver.scene, lower, 'down', 10)!(driver.store.commands, 'commit'));
    must(nudge(driver.scene, upper, 'up', 5)!(driver.store.commands, 'commit'));
    expect(side(driver).down).toBeCloseTo(90, 6);
    expect(side(driver).up).toBeCloseTo(45, 6);
    expect(nudge(driver.scene, lower, 'left', 10)).toBeNull();
  });

  it('a fan without a hinge at the side seam has no such handles', () => {
    const driver = trued({ up: 40, down: 80 });
    must(driver.store.commands.setFullnessLine('front', null));
    expect(blendView(activePieceOf(driver.scene)!)).toBeNull();
  });
});
