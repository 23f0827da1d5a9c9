import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathLength, pathPointAt } from '../../src/geometry/path';
import { distance, mix, point } from '../../src/geometry/point';
import { cubic, line } from '../../src/geometry/segment';
import { onTable } from '../../src/gestures/frames';
import { activePieceOf } from '../../src/gestures/scene';
import { fan } from '../../src/operations/fan';
import { addDart } from '../../src/pattern/addDart';
import type { BlockPiece } from '../../src/pattern/garment';
import { validatePiece } from '../../src/pattern/validate';
import { usualFan } from '../../src/store/usualSteps';
import { sampleGarment, TableDriver } from './tableDriver';

/** Hem down, waist a shallow arc from right to left that hangs 8 mm in the middle. */
const panel: BlockPiece = {
  id: 'panel',
  name: 'Panel',
  locked: false,
  edges: [
    { id: 'hem', name: 'Hem', role: 'hem', path: [line(point(0, 600), point(240, 600))] },
    { id: 'side', name: 'Side seam', role: 'side', path: [line(point(240, 600), point(240, 0))] },
    {
      id: 'waist',
      name: 'Waist',
      role: 'waist',
      path: [cubic(point(240, 0), point(160, 10.7), point(80, 10.7), point(0, 0))],
    },
    { id: 'centre', name: 'Centre front', role: 'centre-front', path: [line(point(0, 0), point(0, 600))] },
  ],
  notches: [{ id: 'notch-1', edge: 'waist', distance: 200, style: 'single' }],
  grainline: null,
  fold: 'centre',
  drillHoles: [],
  darts: [],
  internalLines: [],
  labelAt: null,
  cutCount: 1,
  size: null,
};

function darting(zoom = 1, kind: 'mouse' | 'pen' | 'touch' = 'mouse'): TableDriver {
  const garment = {
    ...sampleGarment('straight-skirt'),
    unit: 'cm' as const,
    blocks: [panel],
    seamLinks: [],
    versions: [],
  };
  const driver = new TableDriver({ garment, zoom, kind });
  driver.store.actions.goTo('mark');
  driver.store.actions.pickTool('dart');
  return driver;
}

const block = (driver: TableDriver) => driver.store.getState().garment!.blocks[0]!;
const shown = (driver: TableDriver) => activePieceOf(driver.scene)!.block;
const at = (driver: TableDriver, x: number, y: number) => onTable(point(x, y), activePieceOf(driver.scene)!.offset);
/** A place on the waist, mm along it. */
const onWaist = (driver: TableDriver, along: number) => {
  const { x, y } = pathPointAt(panel.edges[2]!.path, along).point;
  return at(driver, x, y);
};

function set(driver: TableDriver, first: number, second: number, x: number, y: number): void {
  driver.tap(onWaist(driver, first));
  driver.tap(onWaist(driver, second));
  driver.move(at(driver, x, y), { alt: true });
  driver.tap(at(driver, x, y), { alt: true });
}

describe('a dart set by clicks', () => {
  it.each([
    ['mouse', 1],
    ['pen', 2],
    ['touch', 1],
    ['mouse', 4],
  ] as const)('takes both legs and its point, in one undo step, with %s at %f px/mm', (kind, zoom) => {
    const driver = darting(zoom, kind);
    set(driver, 100, 125, 130, 120);
    const [dart] = block(driver).darts;
    expect(dart).toMatchObject({ id: 'dart-1', edge: 'waist' });
    expect(distance(dart!.apex, point(130, 120))).toBeLessThan(1e-6);
    const [a, b] = dart!.legs;
    expect(distance(a, pathPointAt(panel.edges[2]!.path, 100).point)).toBeLessThan(1e-6);
    expect(distance(b, pathPointAt(panel.edges[2]!.path, 125).point)).toBeLessThan(1e-6);
    expect(validatePiece(block(driver))).toEqual([]);
    expect(driver.steps).toBe(1);
    expect(driver.store.getState().past.at(-1)!.label).toBe('Dart');
    expect(driver.gesture).toBeNull();
    driver.store.actions.undo();
    expect(block(driver)).toEqual(panel);
  });

  it('the legs may be set in either order', () => {
    const [one, other] = [darting(), darting()];
    set(one, 100, 125, 130, 120);
    set(other, 125, 100, 130, 120);
    expect(block(other)).toEqual(block(one));
  });

  it('the outline runs straight across the mouth, and a notch beyond it keeps its place on the cloth', () => {
    const driver = darting();
    set(driver, 90, 130, 130, 120);
    const piece = block(driver);
    const waist = piece.edges[2]!.path;
    expect(waist.map(({ kind }) => kind)).toEqual(['cubic', 'line', 'cubic']);
    expect(waist[1]!.start).toEqual(piece.darts[0]!.legs[0]);
    expect(waist[1]!.end).toEqual(piece.darts[0]!.legs[1]);
    const before = pathPointAt(panel.edges[2]!.path, 200).point;
    expect(distance(pathPointAt(waist, piece.notches[0]!.distance).point, before)).toBeLessThan(1e-6);
    expect(pathLength(waist)).toBeLessThan(pathLength(panel.edges[2]!.path));
    expect(enclosedArea(piece.edges.flatMap(({ path }) => path))).toBeGreaterThan(0);
  });

  it('is shown live, mouth first, and nothing is kept before its point is set', () => {
    const driver = darting();
    driver.tap(onWaist(driver, 100));
    driver.move(onWaist(driver, 125));
    expect(driver.marks).toMatchObject([{ kind: 'measure', text: '2.5 cm' }]);
    driver.tap(onWaist(driver, 125));
    driver.move(at(driver, 127, 110), { alt: true });
    expect(shown(driver).darts).toHaveLength(1);
    driver.move(at(driver, 131, 140), { alt: true });
    expect(shown(driver).darts).toHaveLength(1);
    expect(shown(driver).darts[0]!.apex.y).toBeCloseTo(140, 6);
    expect(driver.store.getState().hint).toMatch(/^Dart 2\.5 cm wide, 13\.\d+ cm long$/);
    expect(block(driver)).toEqual(panel);
    expect(driver.steps).toBe(0);
  });

  it('R3 Escape takes back the last point, then the dart, and leaves no trace', () => {
    const driver = darting();
    driver.tap(onWaist(driver, 100));
    driver.tap(onWaist(driver, 125));
    driver.move(at(driver, 127, 110));
    driver.key('Escape');
    expect(driver.store.getState().preview).toBeNull();
    expect(driver.gesture).toBe('dart');
    driver.key('Escape');
    expect(driver.gesture).toBeNull();
    expect(driver.marks).toEqual([]);
    expect(block(driver)).toEqual(panel);
    // After the second leg was taken back another one can be set.
    driver.tap(onWaist(driver, 100));
    driver.tap(onWaist(driver, 125));
    driver.key('Escape');
    driver.tap(onWaist(driver, 140));
    driver.tap(at(driver, 120, 110), { alt: true });
    expect(distance(block(driver).darts[0]!.legs[1], pathPointAt(panel.edges[2]!.path, 140).point)).toBeLessThan(1e-6);
  });

  it('waits where a click means nothing: off the edge, on another edge, or a point outside the piece', () => {
    const driver = darting();
    driver.tap(onWaist(driver, 100));
    driver.tap(at(driver, 240, 300));
    driver.tap(at(driver, 120, 300));
    expect(driver.store.getState().hint).toBe('Click the waist for the other leg');
    driver.tap(onWaist(driver, 125));
    driver.tap(at(driver, 120, -60));
    expect(driver.store.getState().hint).toMatch(/inside the piece/);
    expect(driver.gesture).toBe('dart');
    expect(driver.steps).toBe(0);
  });

  it('a press that is dragged away sets no point', () => {
    const driver = darting();
    driver.tap(onWaist(driver, 100));
    driver.drag(onWaist(driver, 125), at(driver, 100, 200));
    driver.tap(onWaist(driver, 130));
    driver.tap(at(driver, 120, 110), { alt: true });
    expect(block(driver).darts).toHaveLength(1);
    expect(distance(block(driver).darts[0]!.legs[1], pathPointAt(panel.edges[2]!.path, 130).point)).toBeLessThan(1e-6);
  });

  it('a second finger sets nothing', () => {
    const driver = darting(1, 'touch');
    driver.tap(onWaist(driver, 100));
    driver.press(onWaist(driver, 125));
    driver.press(at(driver, 100, 200), { id: 2 });
    driver.release(at(driver, 100, 200), { id: 2 });
    driver.release(onWaist(driver, 125));
    expect(driver.gesture).toBe('dart');
    driver.tap(at(driver, 120, 110));
    expect(block(driver).darts).toEqual([]);
  });

  it('another tool in hand ends it', () => {
    const driver = darting();
    driver.tap(onWaist(driver, 100));
    driver.store.actions.pickTool('hand');
    driver.move(at(driver, 100, 100));
    expect(driver.gesture).toBeNull();
  });

  it('R1 a locked block takes no dart', () => {
    const driver = new TableDriver();
    driver.store.actions.goTo('mark');
    driver.store.actions.pickTool('dart');
    const before = driver.store.getState().garment;
    const piece = activePieceOf(driver.scene)!;
    driver.tap(onTable(pathPointAt(piece.block.edges[0]!.path, 40).point, piece.offset));
    expect(driver.gesture).toBeNull();
    expect(driver.store.getState().garment).toBe(before);
  });
});

describe('where a dart may lie', () => {
  const waistDart = { edge: 'waist', from: 90, to: 120, apex: point(130, 120) };
  const withOne = addDart(panel, 'dart-1', waistDart);
  if (!withOne.ok) throw new Error(withOne.sentence);
  const bent: BlockPiece = {
    ...panel,
    edges: panel.edges.map((edge) =>
      edge.id === 'waist'
        ? { ...edge, path: [cubic(point(240, 0), point(200, 180), point(40, 180), point(0, 0))] }
        : edge,
    ),
  };

  it.each([
    ['on an edge that is not there', panel, { ...waistDart, edge: 'cuff' }, 'dart-edge-unknown'],
    ['on the fold', panel, { ...waistDart, edge: 'centre' }, 'dart-on-fold'],
    ['without a mouth', panel, { ...waistDart, to: 91 }, 'dart-too-narrow'],
    ['over a bend', bent, { ...waistDart, from: 100, to: 260 }, 'dart-mouth-bent'],
    ['over another dart', withOne.value, { ...waistDart, from: 110, to: 140 }, 'dart-overlaps'],
    ['across another dart', withOne.value, { ...waistDart, from: 130, to: 150, apex: point(160, 100) }, 'dart-crosses'],
    [
      'into another dart from the other side',
      withOne.value,
      { edge: 'side', from: 500, to: 520, apex: point(130, 60) },
      'dart-crosses',
    ],
    ['with its point outside', panel, { ...waistDart, apex: point(120, -50) }, 'dart-leaves-piece'],
    ['with its point on the outline', panel, { ...waistDart, apex: point(240, 300) }, 'dart-leaves-piece'],
    [
      'with a leg that leaves the piece',
      bent,
      { ...waistDart, from: 5, to: 12, apex: point(10, 30) },
      'dart-leaves-piece',
    ],
  ])('is refused %s', (_, piece, places, code) => {
    const outcome = addDart(piece, 'dart-9', places);
    expect(outcome).toMatchObject({ ok: false, code });
    expect(!outcome.ok && outcome.sentence).toMatch(/^[A-Z].*\.$/);
  });

  it('is allowed beside another, legs touching', () => {
    const waist = withOne.value.edges[2]!.path;
    const along = pathLength(waist.slice(0, 2));
    const second = addDart(withOne.value, 'dart-2', {
      edge: 'waist',
      from: along,
      to: along + 20,
      apex: point(100, 110),
    });
    expect(second.ok && validatePiece(second.value)).toEqual([]);
    expect(second.ok && second.value.darts).toHaveLength(2);
  });

  it('is allowed to come to the point of another', () => {
    const shared = { edge: 'side', from: 460, to: 490, apex: waistDart.apex };
    const second = addDart(withOne.value, 'dart-2', shared);
    expect(second.ok && validatePiece(second.value)).toEqual([]);
    expect(second.ok && second.value.darts).toHaveLength(2);
  });

  it('a straight edge is left as it is', () => {
    const made = addDart(panel, 'dart-1', { edge: 'side', from: 480, to: 500, apex: point(150, 100) });
    if (!made.ok) throw new Error(made.sentence);
    expect(made.value.edges).toEqual(panel.edges);
    expect(mix(...made.value.darts[0]!.legs, 0.5)).toEqual(point(240, 110));
  });

  it('a slash line through it is refused in plain words when the piece is fanned, and one beside it is not', () => {
    const skirt = { ...sampleGarment('straight-skirt').blocks[0]!, darts: [] };
    const waist = skirt.edges.find(({ role }) => role === 'waist')!;
    const whole = pathLength(waist.path);
    const step = usualFan(skirt, 'cm');
    if (!step.ok) throw new Error(step.sentence);
    const opened = {
      ...step.value,
      slashes: step.value.slashes.map((slash) => ({ ...slash, across: 0.5 })).slice(0, 1),
    };
    const dartAt = (share: number) => {
      const middle = pathPointAt(waist.path, share * whole).point;
      const places = { edge: waist.id, from: share * whole - 12, to: share * whole + 12 };
      const made = addDart(skirt, 'dart-1', { ...places, apex: point(middle.x, middle.y + 90) });
      if (!made.ok) throw new Error(made.sentence);
      return fan(made.value, { ...opened, fullness: null });
    };
    const through = [0.35, 0.4, 0.45, 0.5, 0.55, 0.6].map(dartAt).filter((outcome) => !outcome.ok);
    expect(through.length).toBeGreaterThan(0);
    for (const outcome of through) {
      expect(outcome).toMatchObject({ code: 'cut-crosses-dart', sentence: expect.stringMatching(/crosses a dart/) });
    }
    expect(dartAt(0.15).ok).toBe(true);
  });
});
