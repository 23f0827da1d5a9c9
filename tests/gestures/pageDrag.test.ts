import { describe, expect, it } from 'vitest';
import { type TablePoint, tablePoint } from '../../src/gestures/frames';
import { dragPage, hoverPage, type PageDrag, startPage } from '../../src/gestures/pageDrag';
import type { SnapPage, TableScene } from '../../src/gestures/scene';
import { type PagesDraft, pagesFrame } from '../../src/store/pagesDraft';
import { TableDriver } from './tableDriver';

const sheet = { width: 200, height: 300, shapes: [], texts: [], pictures: [], rasterOnly: false };
const lie = {
  pages: [1, 2].map((number) => ({ ...sheet, number })),
  places: [
    { page: 1, at: { x: 0, y: 0 } },
    { page: 2, at: { x: 210, y: 0 } },
  ],
  leftOut: [],
};
const laid: PagesDraft = {
  book: 'one',
  source: 'skirt.pdf',
  ...lie,
  frame: pagesFrame(lie),
  arranged: { places: lie.places, how: 'side-by-side', worst: 0, joined: [], notes: [] },
  square: null,
  warnings: [],
};

/** Meets its neighbour with its corner at (200, 0), from no farther than the reach. */
const meetsAt200: SnapPage = (_pages, page, at, reach) =>
  page === 2 && Math.hypot(at.x - 200, at.y) <= reach ? { at: { x: 200, y: 0 }, matches: 3, worst: 0 } : null;

function table(pages: PagesDraft = laid): { readonly driver: TableDriver; readonly scene: () => TableScene } {
  const driver = new TableDriver({ zoom: 1 });
  driver.store.actions.goTo('bring-in');
  driver.bringIn.actions.layPages(pages);
  return { driver, scene: () => ({ ...driver.scene, snapPage: meetsAt200 }) };
}

const sample = ({ driver }: ReturnType<typeof table>, at: TablePoint, alt = false) => {
  const { camera, view } = driver.scene;
  return {
    id: 1,
    kind: 'mouse' as const,
    at: {
      left: view.width / 2 + (at.across - camera.centre.x) * camera.pixelsPerMm,
      top: view.height / 2 + (at.down - camera.centre.y) * camera.pixelsPerMm,
    },
    button: 0,
    alt,
    shift: false,
    contact: 0,
    time: 0,
  };
};

/** Presses at one place and moves to another. */
function moved(on: ReturnType<typeof table>, from: TablePoint, to: TablePoint, alt = false) {
  const press = startPage(sample(on, from), on.scene())!;
  return dragPage(press, { type: 'move', pointer: sample(on, to, alt) }, on.scene());
}

const placeOf = (pages: PagesDraft | undefined, page: number) => pages?.places.find((place) => place.page === page)?.at;

describe('dragging a page', () => {
  it('takes hold of the page under the pointer; beside the pages and on left-out ones there is nothing to hold', () => {
    const on = table();
    expect(startPage(sample(on, tablePoint(300, 100)), on.scene())?.page).toBe(2);
    expect(startPage(sample(on, tablePoint(205, 100)), on.scene())).toBeNull();
    expect(hoverPage(sample(on, tablePoint(50, 50)), on.scene())).toMatchObject({ cursor: 'move' });
    const without = table({ ...laid, leftOut: [2] });
    expect(startPage(sample(without, tablePoint(300, 100)), without.scene())).toBeNull();
  });

  it('moves it with the pointer, uppermost, and the room stays as it is until it is let go', () => {
    const on = table();
    const { pages, state } = moved(on, tablePoint(100, 100), tablePoint(160, 130));
    expect(placeOf(pages, 1)).toEqual({ x: 60, y: 30 });
    expect(pages?.places.at(-1)?.page).toBe(1);
    expect(pages?.frame).toBe(laid.frame);
    const release = { type: 'release', pointer: sample(on, tablePoint(160, 130)) } as const;
    const dropped = dragPage(state as PageDrag, release, on.scene());
    expect(dropped.state).toBeNull();
    expect(dropped.pages?.frame).toEqual({ minX: 60, minY: 0, maxX: 410, maxY: 330 });
  });

  it('snaps where its lines meet, says how many, and Alt lets it lie beside that place', () => {
    const on = table();
    const near = moved(on, tablePoint(300, 100), tablePoint(294, 103));
    expect(placeOf(near.pages, 2)).toEqual({ x: 200, y: 0 });
    expect(near.hint).toBe('Page 2: 3 lines meet');
    const free = moved(on, tablePoint(300, 100), tablePoint(294, 103), true);
    expect(placeOf(free.pages, 2)).toEqual({ x: 204, y: 3 });
  });

  it('Escape and a cancelled pointer put it back', () => {
    const on = table();
    const { state } = moved(on, tablePoint(300, 100), tablePoint(400, 200));
    const escaped = dragPage(state as PageDrag, { type: 'key', key: 'Escape', shift: false }, on.scene());
    expect(escaped).toMatchObject({ state: null, pages: laid });
    const cancel = { type: 'cancel', pointer: sample(on, tablePoint(400, 200)) } as const;
    expect(dragPage(state as PageDrag, cancel, on.scene())).toMatchObject({ state: null, pages: laid });
  });

  it('works through the table itself, and a short slip of the pointer moves nothing', () => {
    const { driver } = table();
    driver.drag(tablePoint(300, 100), tablePoint(330, 140));
    expect(placeOf(driver.bringIn.getState().pages!, 2)).toEqual({ x: 240, y: 40 });
    driver.press(tablePoint(300, 100));
    driver.release(tablePoint(301, 101));
    expect(placeOf(driver.bringIn.getState().pages!, 2)).toEqual({ x: 240, y: 40 });
  });
});
