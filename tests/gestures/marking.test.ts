import { describe, expect, it } from 'vitest';
import { pathLength, pathPointAt } from '../../src/geometry/path';
import { distance, point } from '../../src/geometry/point';
import { cubic, line } from '../../src/geometry/segment';
import { onTable, tablePoint } from '../../src/gestures/frames';
import { moveHandle, moveNode, outlineNodes } from '../../src/gestures/outlineEdit';
import { activePieceOf } from '../../src/gestures/scene';
import type { BlockPiece } from '../../src/pattern/garment';
import { validatePiece } from '../../src/pattern/validate';
import { moved, sampleGarment, TableDriver } from './tableDriver';

const panel: BlockPiece = {
  id: 'panel',
  name: 'Panel',
  locked: false,
  edges: [
    { id: 'hem', name: 'Hem', role: 'hem', path: [line(point(0, 600), point(240, 600))] },
    {
      id: 'side',
      name: 'Side seam',
      role: 'side',
      path: [
        cubic(point(240, 600), point(240, 500), point(250, 400), point(250, 300)),
        cubic(point(250, 300), point(250, 200), point(230, 100), point(220, 0)),
      ],
    },
    { id: 'waist', name: 'Waist', role: 'waist', path: [line(point(220, 0), point(0, 0))] },
    { id: 'centre', name: 'Centre front', role: 'centre-front', path: [line(point(0, 0), point(0, 600))] },
  ],
  notches: [],
  grainline: null,
  fold: null,
  drillHoles: [],
  darts: [],
  internalLines: [],
  labelAt: null,
  cutCount: 1,
  size: null,
};

function marking(tool: 'hand' | 'notch' | 'grain' | 'drill' = 'hand', zoom = 1): TableDriver {
  const garment = {
    ...sampleGarment('straight-skirt'),
    unit: 'cm' as const,
    blocks: [panel],
    seamLinks: [],
    versions: [],
  };
  const driver = new TableDriver({ garment, zoom });
  driver.store.actions.goTo('mark');
  driver.store.actions.pickTool(tool);
  return driver;
}

const block = (driver: TableDriver) => activePieceOf(driver.scene)!.block;
const at = (driver: TableDriver, x: number, y: number) => onTable(point(x, y), activePieceOf(driver.scene)!.offset);

describe('marks on a block that is not locked', () => {
  it.each([0.5, 1, 4])('a tap near an edge sets a notch on it at %f px/mm', (zoom) => {
    const driver = marking('notch', zoom);
    driver.tap(at(driver, 1, 250));
    const [notch] = block(driver).notches;
    expect(notch).toMatchObject({ edge: 'centre', style: 'single' });
    expect(notch!.distance).toBeCloseTo(250, 6);
    expect(driver.steps).toBe(1);
  });

  it('a notch slides along its edge and stays on it', () => {
    const driver = marking('notch');
    driver.tap(at(driver, 251, 310));
    driver.store.actions.pickTool('hand');
    const from = driver.handle({ kind: 'notch', piece: 'panel', notch: 'notch-1' });
    const before = block(driver).notches[0]!.distance;
    driver.drag(from, moved(from, 30, 80), { alt: true });
    const after = block(driver).notches[0]!.distance;
    const side = panel.edges[1]!.path;
    expect(after).toBeLessThan(before - 70);
    expect(after).toBeGreaterThan(0);
    expect(pathPointAt(side, after).point.y).toBeGreaterThan(380);
    driver.drag(driver.handle({ kind: 'notch', piece: 'panel', notch: 'notch-1' }), at(driver, 300, 5000));
    expect(block(driver).notches[0]!.distance).toBe(0);
    expect(pathLength(side)).toBeGreaterThan(0);
  });

  it('the grainline runs from press to release, and straight along the centre line when near it', () => {
    const driver = marking('grain');
    driver.drag(at(driver, 60, 500), at(driver, 63, 199.6));
    const grain = block(driver).grainline!;
    expect(grain.start).toEqual(point(60, 500));
    expect(grain.end.x).toBeCloseTo(60, 9);
    expect(grain.end.y).toBeCloseTo(200, 9);
    expect(driver.steps).toBe(1);
  });

  it('R3 Escape while drawing the grainline leaves no trace', () => {
    const driver = marking('grain');
    driver.press(at(driver, 60, 500));
    driver.move(at(driver, 60, 200));
    expect(driver.store.getState().preview).not.toBeNull();
    driver.key('Escape');
    expect(driver.store.getState().preview).toBeNull();
    expect(block(driver).grainline).toBeNull();
  });

  it('a tap marks a drill hole, which can be moved', () => {
    const driver = marking('drill');
    driver.tap(at(driver, 110, 410));
    expect(block(driver).drillHoles).toEqual([{ id: 'hole-1', at: point(110, 410) }]);
    driver.store.actions.pickTool('hand');
    driver.drag(at(driver, 110, 410), at(driver, 141, 437), { alt: true });
    expect(block(driver).drillHoles[0]!.at.x).toBeCloseTo(141, 9);
    expect(block(driver).drillHoles[0]!.at.y).toBeCloseTo(437, 9);
  });

  it('R1 a locked block takes no marks', () => {
    const driver = new TableDriver();
    driver.store.actions.goTo('mark');
    driver.store.actions.pickTool('notch');
    const before = driver.store.getState().garment;
    const piece = activePieceOf(driver.scene)!;
    driver.tap(onTable(pathPointAt(piece.block.edges[0]!.path, 40).point, piece.offset));
    expect(driver.store.getState().garment).toBe(before);
    expect(driver.steps).toBe(0);
  });
});

describe('editing an outline by its nodes', () => {
  it('a corner moves both of its edges and the outline stays closed', () => {
    const driver = marking();
    const corner = { kind: 'node', piece: 'panel', edge: 'side', segment: 0 } as const;
    const from = driver.handle(corner);
    driver.drag(from, moved(from, 33, 12), { alt: true });
    const [hem, side] = block(driver).edges;
    expect(hem!.path[0]!.end.x).toBeCloseTo(273, 9);
    expect(side!.path[0]!.start).toEqual(hem!.path[0]!.end);
    expect(validatePiece(block(driver))).toEqual([]);
    expect(driver.steps).toBe(1);
  });

  it('a corner dropped on another corner of the table snaps to it', () => {
    const driver = marking();
    const corner = { kind: 'node', piece: 'panel', edge: 'side', segment: 0 } as const;
    const from = driver.handle(corner);
    driver.press(from);
    driver.move(at(driver, 222, 3));
    expect(driver.marks).toContainEqual({ kind: 'snap', at: at(driver, 220, 0), word: 'corner' });
    driver.key('Escape');
    expect(block(driver)).toEqual(panel);
  });

  it('a smooth node stays smooth when one of its handles turns, unless Shift is held', () => {
    const place = { edge: 'side', segment: 1 };
    const to = point(300, 380);
    const turned = moveHandle(panel, place, 'in', to, false);
    const node = outlineNodes(turned).find((one) => one.edge === 'side' && one.segment === 1)!;
    expect(node.handleIn).toEqual(to);
    const a = { x: node.at.x - to.x, y: node.at.y - to.y };
    const b = { x: node.handleOut!.x - node.at.x, y: node.handleOut!.y - node.at.y };
    expect(a.x * b.y - a.y * b.x).toBeCloseTo(0, 9);
    expect(distance(node.at, node.handleOut!)).toBeCloseTo(100, 9);
    const alone = moveHandle(panel, place, 'in', to, true);
    expect(outlineNodes(alone)[2]!.handleOut).toEqual(point(250, 200));
  });

  it('a node takes its handles along', () => {
    const next = moveNode(panel, { edge: 'side', segment: 1 }, point(260, 310));
    const node = outlineNodes(next)[2]!;
    expect(node.at).toEqual(point(260, 310));
    expect(node.handleIn).toEqual(point(260, 410));
    expect(node.handleOut).toEqual(point(260, 210));
  });

  it('handles of a curve show only near the selected node', () => {
    const driver = marking();
    const handle = { kind: 'node', piece: 'panel', edge: 'side', segment: 1, handle: 'in' } as const;
    expect(() => driver.handle(handle)).toThrow();
    driver.tap(driver.handle({ kind: 'node', piece: 'panel', edge: 'side', segment: 1 }));
    expect(driver.handle(handle)).toEqual(at(driver, 250, 400));
  });

  it('the hand on bare table selects nothing and moves nothing', () => {
    const driver = marking();
    driver.tap(tablePoint(-300, -300));
    expect(driver.store.getState().selection).toBeNull();
    expect(driver.steps).toBe(0);
  });
});
