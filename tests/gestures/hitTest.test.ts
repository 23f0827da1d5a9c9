import { describe, expect, it } from 'vitest';
import { pathBounds } from '../../src/geometry/bounds';
import { pathPointAt } from '../../src/geometry/path';
import { point } from '../../src/geometry/point';
import { fanView } from '../../src/gestures/fanView';
import { onTable, screenAt, type TablePoint } from '../../src/gestures/frames';
import { hitTest, shownEdges } from '../../src/gestures/hitTest';
import type { PointerKind } from '../../src/gestures/reach';
import { activePieceOf, pieceOf } from '../../src/gestures/scene';
import { moved, TableDriver } from './tableDriver';

function under(driver: TableDriver, at: TablePoint, kind: PointerKind = 'mouse') {
  return hitTest(driver.scene, screenAt(driver.store.getState().camera, driver.view, at), kind);
}

describe('what lies under the pointer', () => {
  it.each([0.5, 1, 4])('a handle, at %f px/mm, within its reach on the screen and no further', (zoom) => {
    const driver = new TableDriver({ zoom }).fanned();
    const { id } = activePieceOf(driver.scene)!.fan!.slashes[3]!;
    const target = { kind: 'opening', piece: 'front', slash: id } as const;
    const at = driver.handle(target);
    const hit = under(driver, moved(at, 9 / zoom, 0));
    expect(hit).toMatchObject({ kind: 'handle', handle: { selection: target } });
    const far = under(driver, moved(at, 11 / zoom, 0));
    expect(far?.kind === 'handle' && far.handle.selection.kind === 'opening').toBe(false);
    expect(under(driver, moved(at, 20 / zoom, 0), 'touch')).toMatchObject({ kind: 'handle' });
  });

  it('either side of an opened slash, and the fullness line anywhere along it', () => {
    const driver = new TableDriver({ zoom: 2 }).fanned();
    const piece = activePieceOf(driver.scene)!;
    const view = fanView(piece.fanned!, piece.fan!);
    const slash = view.slashes[1]!;
    for (const side of [slash.centreSide, slash.sideSide]) {
      const middle = onTable(pathPointAt(side, 150).point, piece.offset);
      expect(under(driver, middle)).toMatchObject({ kind: 'line', selection: { kind: 'slash', slash: slash.id } });
    }
    const onLine = onTable(pathPointAt(view.fullness!, 90).point, piece.offset);
    expect(under(driver, onLine)).toMatchObject({ kind: 'line', selection: { kind: 'fullness-line' } });
  });

  it('an edge says its name and length; the inside of another piece offers that piece', () => {
    const driver = new TableDriver();
    driver.store.actions.goTo('mark');
    const back = pieceOf(driver.scene, 'back')!;
    const armhole = shownEdges(driver.scene, back).find((edge) => edge.id === 'armhole')!;
    const at = onTable(pathPointAt(armhole.path, 60).point, back.offset);
    expect(under(driver, at)).toMatchObject({ kind: 'edge', piece: 'back', edge: 'armhole' });
    expect(under(driver, at)).toHaveProperty('sentence', expect.stringMatching(/^Armhole, .* in$/));
    const { minX, maxX, minY, maxY } = pathBounds(back.block.edges.flatMap((edge) => edge.path));
    const inside = onTable(point((minX + maxX) / 2, (minY + maxY) / 2), back.offset);
    expect(under(driver, inside)).toMatchObject({ kind: 'piece', piece: 'back' });
    driver.tap(inside);
    expect(driver.store.getState().activePiece).toBe('back');
  });

  it('nothing on bare table', () => {
    expect(under(new TableDriver(), { across: -200, down: -200 })).toBeNull();
  });
});
