import { describe, expect, it } from 'vitest';
import { point } from '../../src/geometry/point';
import { line } from '../../src/geometry/segment';
import { tablePoint } from '../../src/gestures/frames';
import { foldLineThrough } from '../../src/store/foldLine';
import { TableDriver } from './tableDriver';

/** A sheet of 200 by 300 whose fold runs down its middle. */
function laid(kind: 'mouse' | 'touch' = 'mouse'): TableDriver {
  const driver = new TableDriver({ kind });
  driver.store.actions.goTo('bring-in');
  const corners = [point(1000, 0), point(1000, 300), point(1200, 300), point(1200, 0)];
  const path = corners.map((at, i) => line(at, corners[(i + 1) % 4]!));
  driver.bringIn.actions.layDraft({
    source: 'a sheet',
    name: 'Sheet',
    shapes: [],
    outline: null,
    path,
    corners: path.map((_, segment) => ({ segment, t: 0, name: `Edge ${segment + 1}`, role: 'other' as const })),
    scale: { kind: 'certain', sentence: '' },
    lie: {
      is: 'both-sides',
      line: foldLineThrough(path, point(1100, 0), point(1100, 300)),
      kept: 'mean',
      whole: null,
      said: [],
    },
  });
  return driver;
}

const lineOf = (driver: TableDriver) => driver.bringIn.getState().draft!.lie!.line!;

describe('the fold of a piece drawn whole', () => {
  it.each(['mouse', 'touch'] as const)(
    'R34 is turned by dragging one end with a %s, whatever tool is in hand, and undo takes it back',
    (kind) => {
      for (const tool of ['corner', 'hand'] as const) {
        const driver = laid(kind);
        driver.store.actions.pickTool(tool);
        const before = lineOf(driver);
        expect(before.apart).toBeLessThan(1e-9);
        driver.drag(tablePoint(1100, 300), tablePoint(1110, 300));
        expect(lineOf(driver).to.x).toBeCloseTo(1110, 6);
        expect(lineOf(driver).from.x).toBeCloseTo(1100, 6);
        // By arithmetic: about 10 mm at the end of 300 mm turns the sheet by twice that over its half width.
        expect(lineOf(driver).apart).toBeGreaterThan(5);
        expect(driver.bringIn.actions.takeBackPoint()).toBe(true);
        expect(lineOf(driver)).toEqual(before);
      }
    },
  );

  it('R34 stays where it is when an end is dragged to where no line through the piece results', () => {
    const driver = laid();
    const before = lineOf(driver);
    driver.drag(tablePoint(1100, 300), tablePoint(1100, 0));
    expect(lineOf(driver)).toEqual(before);
    expect(driver.bringIn.actions.takeBackPoint()).toBe(false);
  });
});
