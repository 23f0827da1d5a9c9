import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { point } from '../../src/geometry/point';
import { line } from '../../src/geometry/segment';
import { tablePoint } from '../../src/gestures/frames';
import type { BringInDraft } from '../../src/store/bringIn';
import { TableDriver } from './tableDriver';

function drawing(zoom = 1, kind: 'mouse' | 'pen' = 'mouse'): TableDriver {
  const driver = new TableDriver({ zoom, kind });
  driver.store.commands.setUnit('cm');
  driver.store.actions.goTo('bring-in');
  driver.store.actions.pickTool('pen');
  return driver;
}

const spot = (x: number, y: number) => tablePoint(1000 + x, y);
const nodes = (driver: TableDriver) => driver.bringIn.getState().pen.nodes;

describe('drawing an outline with the pen', () => {
  it.each([0.5, 1, 4])('clicks make corners, a pull makes a curve, the first point closes it at %f px/mm', (zoom) => {
    const driver = drawing(zoom);
    driver.tap(spot(0, 0), { alt: true });
    driver.tap(spot(0, 400), { alt: true });
    driver.drag(spot(300, 400), spot(300, 340), { alt: true });
    driver.tap(spot(200, 0), { alt: true });
    expect(nodes(driver)).toHaveLength(4);
    const pulled = nodes(driver)[2]!;
    expect(pulled.handleOut!.y).toBeCloseTo(340, 9);
    expect(pulled.handleIn!.y).toBeCloseTo(460, 9);
    driver.tap(spot(0, 0), { alt: true });
    const { draft, pen } = driver.bringIn.getState();
    expect(pen.nodes).toHaveLength(0);
    expect(draft!.path).toHaveLength(4);
    expect(enclosedArea(draft!.path!)).toBeGreaterThan(0);
    expect(draft!.path!.at(-1)!.end).toEqual(draft!.path![0]!.start);
    expect(draft!.corners).toHaveLength(3);
    expect(draft!.scale.kind).toBe('certain');
    expect(driver.store.getState().tool).toBe('hand');
  });

  it('comes out the same way round however it was drawn', () => {
    for (const corners of [
      [spot(0, 0), spot(0, 300), spot(200, 300)],
      [spot(0, 0), spot(200, 300), spot(0, 300)],
    ]) {
      const driver = drawing();
      for (const corner of corners) driver.tap(corner, { alt: true });
      driver.key('Enter');
      expect(enclosedArea(driver.bringIn.getState().draft!.path!)).toBeCloseTo(30_000, 6);
      expect(driver.bringIn.getState().draft!.path![0]!.start).toEqual(point(1000, 0));
    }
  });

  it('goes on after an outline was closed with Enter: its points can be dragged, and undo takes that back', () => {
    const driver = drawing();
    for (const corner of [spot(0, 0), spot(0, 300), spot(200, 300)]) driver.tap(corner, { alt: true });
    driver.key('Enter');
    const drawn = driver.bringIn.getState().draft!.path!;
    driver.drag(spot(200, 300), spot(260, 340), { alt: true });
    driver.drag(spot(260, 340), spot(280, 360), { alt: true });
    const moved = driver.bringIn.getState().draft!.path!;
    expect(moved.some(({ start }) => Math.hypot(start.x - 1280, start.y - 360) < 1e-6)).toBe(true);
    expect(driver.bringIn.actions.takeBackPoint()).toBe(true);
    expect(driver.bringIn.actions.takeBackPoint()).toBe(true);
    expect(driver.bringIn.getState().draft!.path).toEqual(drawn);
    expect(driver.bringIn.actions.takeBackPoint()).toBe(false);
  });

  it('Backspace takes back one point, Escape drops the whole drawing, neither touches the document', () => {
    const driver = drawing();
    const before = driver.store.getState().garment;
    const steps = driver.steps;
    driver.tap(spot(0, 0));
    driver.tap(spot(0, 300));
    driver.key('Backspace');
    expect(nodes(driver)).toHaveLength(1);
    driver.tap(spot(50, 300));
    expect(driver.bringIn.actions.takeBackPoint()).toBe(true);
    expect(nodes(driver)).toHaveLength(1);
    driver.key('Escape');
    expect(nodes(driver)).toHaveLength(0);
    expect(driver.bringIn.actions.takeBackPoint()).toBe(false);
    expect(driver.store.getState().garment).toBe(before);
    expect(driver.steps).toBe(steps);
  });

  it('Escape or a cancelled pointer while pulling takes back only the point being set', () => {
    const driver = drawing();
    driver.tap(spot(0, 0));
    driver.press(spot(0, 300));
    driver.move(spot(80, 300));
    driver.key('Escape');
    expect(nodes(driver)).toHaveLength(1);
    driver.release(spot(80, 300));
    driver.press(spot(0, 300));
    driver.cancel();
    expect(nodes(driver)).toHaveLength(1);
  });

  it('two points do not close, and a second click on the same spot sets no second point', () => {
    const driver = drawing();
    driver.tap(spot(0, 0));
    driver.tap(spot(0, 300));
    driver.tap(spot(0, 300));
    expect(nodes(driver)).toHaveLength(2);
    driver.key('Enter');
    expect(driver.bringIn.getState().draft).toBeNull();
    expect(driver.store.getState().hint).toMatch(/three points/);
  });

  it('shows where the next point would go, at whole lengths from the last one', () => {
    const driver = drawing();
    driver.tap(spot(0, 0));
    driver.move(spot(1, 200.6));
    expect(driver.bringIn.getState().pen.next).toEqual(point(1000, 200));
    expect(driver.store.getState().hint).toContain('upright');
  });
});

const square = [
  line(point(0, 0), point(0, 100)),
  line(point(0, 100), point(100, 100)),
  line(point(100, 100), point(100, 0)),
  line(point(100, 0), point(0, 0)),
];

function drafted(scale: BringInDraft['scale'] = { kind: 'certain', sentence: '' }): TableDriver {
  const driver = new TableDriver({ zoom: 2 });
  driver.store.actions.goTo('bring-in');
  driver.bringIn.actions.layDraft({
    source: 'square.svg',
    name: 'Square',
    shapes: [
      { id: 'a', name: 'Square', path: square, closed: true },
      {
        id: 'b',
        name: 'Other',
        path: square.map((side) => ({
          ...side,
          start: point(side.start.x + 300, side.start.y),
          end: point(side.end.x + 300, side.end.y),
        })),
        closed: true,
      },
    ],
    outline: 'a',
    path: square,
    corners: [{ segment: 0, t: 0, name: 'Side', role: 'side' }],
    scale,
  });
  return driver;
}

describe('naming the edges of a brought-in outline', () => {
  const corners = (driver: TableDriver) => driver.bringIn.getState().draft!.corners;

  it('a click on the outline parts it there, a click on a corner takes it away', () => {
    const driver = drafted();
    driver.store.actions.pickTool('corner');
    driver.tap(tablePoint(51, 102), { alt: true });
    expect(corners(driver)).toHaveLength(2);
    expect(corners(driver)[1]).toMatchObject({ segment: 1, name: 'Edge 2', role: 'other' });
    expect(corners(driver)[1]!.t).toBeCloseTo(0.51, 9);
    expect(corners(driver)[0]).toMatchObject({ name: 'Side', role: 'side' });
    driver.tap(tablePoint(51, 100));
    expect(corners(driver)).toHaveLength(1);
    expect(driver.steps).toBe(0);
  });

  it('prefers a joint of the outline, and never sets two corners on one spot', () => {
    const driver = drafted();
    driver.store.actions.pickTool('corner');
    driver.tap(tablePoint(98, 99));
    expect(corners(driver)[1]).toMatchObject({ segment: 2, t: 0 });
  });

  it('a corner slides along the outline, and Escape puts it back', () => {
    const driver = drafted();
    driver.store.actions.pickTool('corner');
    driver.drag(tablePoint(0, 0), tablePoint(-3, 60), { alt: true });
    expect(corners(driver)).toEqual([{ segment: 0, t: 0.6, name: 'Side', role: 'side' }]);
    driver.press(tablePoint(0, 60));
    driver.move(tablePoint(60, 100));
    driver.key('Escape');
    expect(corners(driver)).toEqual([{ segment: 0, t: 0.6, name: 'Side', role: 'side' }]);
  });

  it('R35 a corner set, slid or taken away is one step each to take back', () => {
    const driver = drafted();
    const before = corners(driver);
    driver.store.actions.pickTool('corner');
    driver.tap(tablePoint(51, 102), { alt: true });
    const parted = corners(driver);
    driver.drag(tablePoint(51, 100), tablePoint(70, 102), { alt: true });
    const slid = corners(driver);
    expect(slid).not.toEqual(parted);
    driver.tap(tablePoint(70, 100));
    expect(corners(driver)).toEqual(before);
    const { takeBackPoint } = driver.bringIn.actions;
    const takenBack = [slid, parted, before].map((lay) => [takeBackPoint(), corners(driver), lay] as const);
    for (const [done, now, lay] of takenBack) expect([done, now]).toEqual([true, lay]);
    expect(takeBackPoint()).toBe(false);
    expect(driver.store.getState().tool).toBe('corner');
  });

  it('a click on another shape offers it as the outline', () => {
    const driver = drafted();
    driver.tap(tablePoint(300, 40));
    expect(driver.chosen).toEqual(['b']);
  });

  it('R23 the tape measures a known length without claiming a scale', () => {
    const driver = drafted({ kind: 'ask', sentence: 'How long is this?', from: null, to: null });
    driver.store.actions.pickTool('measure');
    driver.drag(tablePoint(0, 1), tablePoint(99, 0));
    const { scale } = driver.bringIn.getState().draft!;
    expect(scale).toMatchObject({ from: point(0, 0), to: point(100, 0) });
    expect(driver.marks).toEqual([{ kind: 'measure', from: tablePoint(0, 0), to: tablePoint(100, 0), text: '' }]);
  });
});

describe('the measure tool', () => {
  it('tells the straight distance and changes nothing', () => {
    const driver = new TableDriver();
    driver.store.commands.setUnit('cm');
    const steps = driver.steps;
    driver.store.actions.pickTool('measure');
    driver.drag(tablePoint(-300, -300), tablePoint(-270, -260), { alt: true });
    expect(driver.store.getState().hint).toContain('5.0 cm');
    expect(driver.steps).toBe(steps);
    driver.move(tablePoint(-100, -100));
    expect(driver.marks.some((mark) => mark.kind === 'measure')).toBe(true);
    driver.key('Escape');
    expect(driver.marks).toEqual([]);
  });
});
