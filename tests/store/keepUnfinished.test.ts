import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { fail, succeed } from '../../src/geometry/outcome';
import { point } from '../../src/geometry/point';
import { line } from '../../src/geometry/segment';
import { openStorage } from '../../src/storage/storage';
import { type BringInDraft, createBringInStore } from '../../src/store/bringIn';
import { withStep } from '../../src/store/draftHistory';
import { type KeepUnfinishedOptions, keepUnfinished, type UnfinishedKeeper } from '../../src/store/keepUnfinished';
import { startPicture } from '../../src/store/pictureDraft';
import { createAppStore } from '../../src/store/store';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { createFakeBox } from '../support/fakeBox';
import { must } from '../support/testStore';

const top = draftSleevelessTop();
const skirt = draftStraightSkirt();

const square = [
  line(point(0, 0), point(0, 100)),
  line(point(0, 100), point(100, 100)),
  line(point(100, 100), point(100, 0)),
  line(point(100, 0), point(0, 0)),
];
const draft: BringInDraft = {
  source: 'square.svg',
  name: 'Square',
  shapes: [{ id: 'a', name: 'Square', path: square, closed: true }],
  outline: 'a',
  path: square,
  corners: [{ segment: 0, t: 0, name: 'Side', role: 'side' }],
  scale: { kind: 'certain', sentence: '' },
};
const named = withStep(
  draft,
  { ...draft, corners: [{ segment: 0, t: 0, name: 'Outer', role: 'side' }] },
  'what an edge is',
);
const picture = startPicture({
  id: 'photo',
  source: 'skirt.jpg',
  width: 400,
  height: 300,
  stated: null,
  sheets: [],
  beside: { kind: 'a4', width: 210, height: 297 },
  corners: [point(1, 1), point(10, 1), point(10, 10), point(1, 10)],
  straight: null,
});
const photo = new File([new Uint8Array([1, 2, 3, 4])], 'skirt.jpg', { type: 'image/jpeg' });

let databases = 0;
const keepers: UnfinishedKeeper[] = [];
afterEach(() => {
  for (const keeper of keepers.splice(0)) keeper.stop();
  vi.unstubAllGlobals();
});

function device() {
  databases += 1;
  return { name: `unfinished-${databases}`, box: createFakeBox() };
}

/** A tab that holds the garment, on a device others may use too. */
function tab(on: ReturnType<typeof device>, garment = top, options: Partial<KeepUnfinishedOptions> = {}) {
  let second = 0;
  const storage = openStorage(on);
  const store = createAppStore();
  const bringIn = createBringInStore();
  store.actions.openGarment(garment);
  const files: string[] = [];
  const keeper = keepUnfinished(store, bringIn, {
    shelf: storage.unfinished,
    held: () => store.getState().garment?.id ?? null,
    fileOf: () => photo,
    layAgain: async (lying, found) => {
      for (const [id, file] of found) files.push(`${id} ${(await file.arrayBuffer()).byteLength} ${file.type}`);
      bringIn.actions.layAgain(lying);
      return succeed(null);
    },
    delay: 10_000,
    now: () => new Date(Date.UTC(2030, 0, 1, 0, 0, ++second)).toISOString(),
    ...options,
  });
  keepers.push(keeper);
  return { storage, store, bringIn, keeper, files, lying: () => bringIn.getState() };
}

describe('R35 what lies on the table and is no piece yet', () => {
  it('comes back as it was: a draft with its steps, pages, the pen', async () => {
    const on = device();
    const first = tab(on);
    const pages = { book: 'b', source: 'skirt.pdf', pages: [{ number: 1, shapes: draft.shapes }], places: [] };
    const pen = { nodes: [{ at: point(1, 2), handleIn: null, handleOut: null }], next: null };
    first.bringIn.actions.layDraft(named);
    first.bringIn.actions.layPages(pages as never);
    first.bringIn.actions.drawPen(pen);
    await first.keeper.flush();
    const next = tab(on);
    expect(await next.keeper.lookFor(top.id)).toEqual({ found: 'laid' });
    expect(next.lying()).toMatchObject({ draft: named, pages, pen });
    expect(next.store.getState().notice?.sentence).toContain('as you left it');
    next.bringIn.actions.drawPen({ nodes: [], next: null });
    expect(next.bringIn.actions.takeBackPoint()).toBe(true);
    expect(next.lying().draft!.corners).toEqual(draft.corners);
  });

  it('a picture’s file is stored once, and handed back byte for byte', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    const put = vi.spyOn(first.storage.unfinished, 'put');
    first.bringIn.actions.changePicture((now) => ({ ...now, chosen: 'corner-1' }));
    await first.keeper.flush();
    expect([...put.mock.calls[0]![1].keys()]).toEqual([]);
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    expect(next.lying().picture).toEqual({ ...picture, chosen: 'corner-1' });
    expect(next.files).toEqual(['photo 4 image/jpeg']);
  });

  it('belongs to its garment, and goes when it is put away or the garment is deleted', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    expect(await tab(on, skirt).keeper.lookFor(skirt.id)).toEqual({ found: 'nothing' });
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    next.bringIn.actions.clearAway();
    await next.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });

    const last = tab(on);
    last.bringIn.actions.layPicture(picture);
    await last.keeper.flush();
    must(await last.storage.deleteGarment(top.id));
    await last.storage.close();
    const shelf = await openDB(on.name);
    expect([await shelf.count('unfinished'), await shelf.count('unfinishedParts')]).toEqual([0, 0]);
    shelf.close();
  });

  it('what a garment that became a copy has on its table goes with the copy', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    first.store.actions.openGarment({ ...top, id: 'copy' });
    await first.keeper.lookFor('copy');
    await first.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
    expect(await tab(on, { ...top, id: 'copy' }).keeper.lookFor('copy')).toEqual({ found: 'laid' });
  });

  it('two tables of one garment do not overwrite each other', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const second = tab(on);
    second.bringIn.actions.layDraft({ ...draft, source: 'other.svg' });
    await second.keeper.lookFor(top.id);
    await second.keeper.flush();
    second.bringIn.actions.clearAway();
    await second.keeper.flush();
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    expect(next.lying().draft?.source).toBe('square.svg');
  });

  it('a tab that may not save the garment keeps nothing', async () => {
    const on = device();
    const second = tab(on, top, { held: () => null });
    second.bringIn.actions.layDraft(draft);
    await second.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
  });

  it('without room it says so once, goes on, and saves when there is room again', async () => {
    const on = device();
    const first = tab(on);
    const full = vi.spyOn(first.storage.unfinished, 'put').mockResolvedValue(fail('storage-full', ''));
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    expect(first.store.getState().notice?.sentence).toContain('no room');
    first.store.actions.notify(null);
    first.bringIn.actions.layDraft(named);
    await first.keeper.flush();
    expect(first.store.getState().notice).toBeNull();
    full.mockRestore();
    await first.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'laid' });
  });

  it('what cannot be read again is gone and named; what was only stopped is kept', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    const stopped = tab(on, top, { layAgain: async () => fail('cancelled', '') });
    expect(await stopped.keeper.lookFor(top.id)).toEqual({ found: 'kept' });
    expect(stopped.store.getState().notice?.sentence).toContain('It is kept');
    await stopped.storage.close();
    const shelf = await openDB(on.name);
    await shelf.clear('unfinishedParts');
    shelf.close();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'gone', lying: 'skirt.jpg' });
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
  });

  it('a page that closes puts down the last change at once', async () => {
    const on = device();
    const listeners: (() => void)[] = [];
    vi.stubGlobal('document', {
      visibilityState: 'hidden',
      addEventListener: (_: string, heard: () => void) => listeners.push(heard),
      removeEventListener: () => {},
    });
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    first.bringIn.actions.layDraft(named);
    // The database drops what a closing page writes.
    vi.spyOn(first.storage.unfinished, 'put').mockResolvedValue(fail('storage-failed', ''));
    for (const heard of listeners) heard();
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    expect(next.lying().draft).toEqual(named);
    expect([...on.box.entries.keys()]).toEqual([]);
  });
});
