import { describe, expect, it } from 'vitest';
import { point } from '../../src/geometry/point';
import { line } from '../../src/geometry/segment';
import { chosenFoldEnd, nextStop, nudgeFoldEnd } from '../../src/gestures/foldLineKeys';
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

  it('R34 does not jump to a finger that is laid down beside its end', () => {
    const driver = laid('touch');
    const before = lineOf(driver);
    const beside = tablePoint(1103, 296);
    driver.drag(beside, beside);
    expect(lineOf(driver)).toEqual(before);
    expect(driver.bringIn.getState().draft!.foldEnd).toBe('to');
    driver.drag(beside, tablePoint(1123, 296));
    // As far as the finger went, carried on to the edge.
    expect(lineOf(driver).to.x).toBeCloseTo(1120, 6);
  });

  it('R34 Tab walks its ends and then the points; arrows move the chosen end, each a step to take back', () => {
    const driver = laid();
    const { layDraft, takeBackPoint } = driver.bringIn.actions;
    const draft = () => driver.bringIn.getState().draft!;
    const tab = (backwards = false) => {
      const next = nextStop(driver.scene, draft(), backwards);
      layDraft(next.draft);
      return next.says;
    };
    driver.store.actions.pickTool('hand');
    expect(tab()).toMatch(/^End of the fold/);
    expect(chosenFoldEnd(draft())).toBe('from');
    expect(nudgeFoldEnd(draft(), 0, 1, true)).toBe(draft());
    tab();
    layDraft(nudgeFoldEnd(draft(), 1, 0, true));
    layDraft(nudgeFoldEnd(draft(), 1, 0, false));
    expect(lineOf(driver).to).toEqual({ x: expect.closeTo(1101.1, 6), y: expect.closeTo(300, 6) });
    expect(lineOf(driver).from.x).toBeCloseTo(1100, 6);
    expect(takeBackPoint()).toBe(true);
    expect(lineOf(driver).to.x).toBeCloseTo(1101, 6);
    expect(chosenFoldEnd(draft())).toBe('to');
    expect(tab()).toMatch(/^Point 1/);
    expect(chosenFoldEnd(draft())).toBe(null);
    expect(tab(true)).toMatch(/^End of the fold/);
    expect(chosenFoldEnd(draft())).toBe('to');
    tab(true);
    expect(tab(true)).toBe(null);
    // Without the hand the points rest, and the fold alone is walked.
    driver.store.actions.pickTool('corner');
    tab();
    tab();
    expect(tab()).toBe(null);
  });
});
