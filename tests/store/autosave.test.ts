import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readProject, writeProject } from '../../src/exchange/project/projectFile';
import type { Garment } from '../../src/pattern/garment';
import { openStorage, type Storage } from '../../src/storage/storage';
import type { Locks } from '../../src/storage/tabGuard';
import type { AppStore } from '../../src/store/appCommands';
import { type Autosave, attachAutosave } from '../../src/store/autosave';
import { restoreSession } from '../../src/store/restore';
import { createAppStore } from '../../src/store/store';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { createFakeLocks } from '../support/fakeLocks';
import { must } from '../support/testStore';

const top = draftSleevelessTop();
const skirt = draftStraightSkirt();
const attached: Autosave[] = [];
let databases = 0;

afterEach(async () => {
  vi.restoreAllMocks();
  await Promise.all(attached.splice(0).map((autosave) => autosave.stop()));
});

function database(): string {
  databases += 1;
  return `autosave-${databases}`;
}

/** A tab of the browser: its own store over the shared database and locks. */
function tab(name: string, locks: Locks | null = null) {
  let ids = 0;
  const storage = openStorage({ name });
  const store = createAppStore({ newId: () => `id-${Math.random()}` });
  const held: string[] = [];
  const attach = () => {
    const newId = () => `copy-${ids++}`;
    const onHeld = (garment: string) => void held.push(garment);
    const autosave = attachAutosave(store, storage, { delay: 5, retry: 20, locks, newId, onHeld });
    attached.push(autosave);
    return autosave;
  };
  return { storage, store, attach, held, rename: (text: string) => must(store.commands.renameGarment(text)) };
}

async function stored(storage: Storage, id: string): Promise<Garment> {
  return must(await storage.loadGarment(id));
}

/** Waits until something holds, however busy the machine is. */
function until(check: () => unknown): Promise<unknown> {
  return vi.waitFor(check, { timeout: 20_000, interval: 5 });
}

function untilNamed(storage: Storage, id: string, name: string): Promise<unknown> {
  return until(async () => expect((await stored(storage, id)).name).toBe(name));
}

async function openAndSave(autosave: Autosave, store: AppStore): Promise<void> {
  store.actions.openGarment(top);
  await autosave.flush();
}

describe('autosave', () => {
  it('saves what is opened and every change, without being asked', async () => {
    const { storage, store, attach, rename } = tab(database());
    attach();
    store.actions.openGarment(top);
    await until(async () => expect(await stored(storage, top.id)).toStrictEqual(top));
    rename('Tunic');
    await untilNamed(storage, top.id, 'Tunic');
    await until(() => expect(store.getState().saved).toBe('saved'));
    store.actions.undo();
    await until(async () => expect(await stored(storage, top.id)).toStrictEqual(top));
  });

  it('R1 R25 brings back garment, version and place after a reload, the block byte for byte', async () => {
    const name = database();
    const first = tab(name);
    const autosave = first.attach();
    const sample = must(readProject(writeProject(top)));
    first.store.actions.openGarment(sample);
    must(first.store.commands.setOpeningForAll('front', 38.1));
    first.store.actions.goTo('true');
    first.store.actions.pickPiece('back');
    first.store.actions.layGhost('block');
    const before = first.store.getState();
    await autosave.stop();
    await first.storage.close();

    const second = tab(name);
    must(await restoreSession(second.store, second.storage));
    const after = second.store.getState();
    expect(after.garment).toStrictEqual(before.garment);
    expect(JSON.stringify(after.garment!.blocks)).toBe(JSON.stringify(sample.blocks));
    for (const key of ['place', 'activePiece', 'activeVersion', 'ghost'] as const) expect(after[key]).toBe(before[key]);
    expect(after.activeVersion).not.toBeNull();
  });

  it('does not write again what was only opened', async () => {
    const name = database();
    const first = tab(name);
    await first.storage.saveGarment(top);
    const before = must(await first.storage.listGarments());
    const autosave = first.attach();
    first.store.actions.openGarment(top);
    await autosave.flush();
    await autosave.flush();
    expect(must(await first.storage.listGarments())).toEqual(before);
    expect(first.store.getState().saved).toBe('saved');
  });

  it('saves the last change of a garment that is put away for another', async () => {
    const { storage, store, attach, rename } = tab(database());
    const autosave = attach();
    store.actions.openGarment(top);
    await autosave.flush();
    rename('Tunic');
    store.actions.openGarment(skirt);
    await autosave.flush();
    expect((await stored(storage, top.id)).name).toBe('Tunic');
    expect(await stored(storage, skirt.id)).toStrictEqual(skirt);
    store.actions.closeGarment();
    await autosave.flush();
    expect(must(await storage.loadSession())).toMatchObject({ garment: null });
    const fresh = tab(database());
    expect(must(await restoreSession(fresh.store, storage))).toBeNull();
  });

  it('R24 never writes other work over a saved garment of the same id: it becomes a copy', async () => {
    const { storage, store, attach } = tab(database());
    const changed = { ...top, name: 'My top' };
    await storage.saveGarment(changed);
    const autosave = attach();
    store.actions.openGarment(top);
    await autosave.flush();
    await autosave.flush();
    expect(await stored(storage, top.id)).toStrictEqual(changed);
    expect(store.getState().garment).toStrictEqual({ ...top, id: 'copy-0' });
    expect(await stored(storage, 'copy-0')).toStrictEqual({ ...top, id: 'copy-0' });
    expect(store.getState().notice!.sentence).toContain('opened as a copy');
  });

  it('goes on with a saved garment that an earlier program laid out in another way', async () => {
    const name = database();
    const { storage, store, attach } = tab(name);
    await storage.saveGarment(top);
    await storage.close();
    const shelf = await openDB(name);
    await shelf.put('garments', { id: top.id, text: JSON.stringify(JSON.parse(writeProject(top))) });
    shelf.close();
    const autosave = attach();
    await openAndSave(autosave, store);
    expect(store.getState().garment).toBe(top);
    expect(store.getState().notice).toBeNull();
    expect(must(await storage.listGarments())).toHaveLength(1);
  });

  it('does not write while it cannot be known what is saved already', async () => {
    const { storage, store, attach, held } = tab(database());
    const changed = { ...top, name: 'My top' };
    await storage.saveGarment(changed);
    const get = vi.spyOn(IDBObjectStore.prototype, 'get').mockImplementation(() => {
      throw new DOMException('not now', 'UnknownError');
    });
    const autosave = attach();
    await openAndSave(autosave, store);
    expect(store.getState()).toMatchObject({ saved: 'failed', notice: { tone: 'warning' } });
    expect(autosave.held()).toBeNull();
    expect(held).toEqual([]);
    get.mockRestore();
    expect(await stored(storage, top.id)).toStrictEqual(changed);
    await until(() => expect(store.getState().garment!.id).toBe('copy-0'));
    await until(async () => expect(await stored(storage, 'copy-0')).toStrictEqual({ ...top, id: 'copy-0' }));
    expect(await stored(storage, top.id)).toStrictEqual(changed);
    await until(() => expect(held).toEqual(['copy-0']));
    expect(autosave.held()).toBe('copy-0');
  });

  it('goes on saving after something that listens to the store has thrown', async () => {
    const { storage, store, attach, rename } = tab(database());
    await openAndSave(attach(), store);
    let failed = false;
    const stop = store.subscribe((state) => {
      if (state.saved !== 'saving' || failed) return;
      failed = true;
      throw new Error('a listener failed');
    });
    const unhandled: unknown[] = [];
    const note = (error: unknown) => unhandled.push(error);
    process.on('unhandledRejection', note);
    rename('Tunic');
    await until(() => expect(failed).toBe(true));
    await untilNamed(storage, top.id, 'Tunic');
    stop();
    rename('Vest');
    await untilNamed(storage, top.id, 'Vest');
    process.off('unhandledRejection', note);
    expect(unhandled).toEqual([]);
  });

  it('tells a failure once, tries again by itself, and then says saved', async () => {
    const { storage, store, attach, rename } = tab(database());
    await openAndSave(attach(), store);
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    rename('Tunic');
    await until(() => expect(store.getState()).toMatchObject({ saved: 'failed', notice: { tone: 'warning' } }));
    expect(store.getState().notice!.sentence).toContain('no room left');
    store.actions.notify(null);
    const tries = put.mock.calls.length;
    await until(() => expect(put.mock.calls.length).toBeGreaterThan(tries));
    expect(store.getState().notice).toBeNull();
    put.mockRestore();
    await until(() => expect(store.getState().saved).toBe('saved'));
    expect((await stored(storage, top.id)).name).toBe('Tunic');
  });
});

describe('two tabs with one garment', () => {
  async function twoTabs() {
    const name = database();
    const locks = createFakeLocks();
    const first = tab(name, locks);
    const firstSave = first.attach();
    first.store.actions.openGarment(top);
    await firstSave.flush();
    const second = tab(name, locks);
    const secondSave = second.attach();
    second.store.actions.openGarment(top);
    await secondSave.flush();
    return { first, firstSave, second, secondSave };
  }

  it('the second is told plainly and saves nothing', async () => {
    const { first, second, secondSave } = await twoTabs();
    expect(second.store.getState()).toMatchObject({ saved: 'failed', notice: { tone: 'warning' } });
    expect(second.store.getState().notice!.sentence).toContain('open in another tab');
    second.rename('From the second');
    await secondSave.flush();
    expect(await stored(first.storage, top.id)).toStrictEqual(top);
    expect(first.store.getState().saved).toBe('saved');
  });

  it('when the first closes, the second shows what the first saved and goes on from there', async () => {
    const { first, firstSave, second } = await twoTabs();
    first.rename('From the first');
    await firstSave.stop();
    await until(() =>
      expect(second.store.getState()).toMatchObject({ garment: { name: 'From the first' }, saved: 'saved' }),
    );
    second.rename('From the second');
    await untilNamed(first.storage, top.id, 'From the second');
  });

  it('R35 each tab is told when it holds the garment, and knows whether it does', async () => {
    const { first, firstSave, second, secondSave } = await twoTabs();
    expect([firstSave.held(), secondSave.held()]).toEqual([top.id, null]);
    await secondSave.takeOver();
    expect(secondSave.held()).toBe(top.id);
    await until(() => expect(firstSave.held()).toBeNull());
    await secondSave.stop();
    await until(() => expect(firstSave.held()).toBe(top.id));
    expect([first.held, second.held]).toEqual([[top.id, top.id], [top.id]]);
  });

  it('when the first closes without a change, the work of the second is saved in its place', async () => {
    const { first, firstSave, second } = await twoTabs();
    second.rename('From the second');
    await firstSave.stop();
    await untilNamed(first.storage, top.id, 'From the second');
    await until(() => expect(second.store.getState().saved).toBe('saved'));
    expect(second.store.getState().past).toHaveLength(1);
  });

  it('when both changed it, neither is lost', async () => {
    const { first, firstSave, second, secondSave } = await twoTabs();
    first.rename('From the first');
    second.rename('From the second');
    await firstSave.stop();
    await until(() => expect(second.store.getState().garment!.id).not.toBe(top.id));
    await secondSave.flush();
    expect((await stored(first.storage, top.id)).name).toBe('From the first');
    const copy = second.store.getState().garment!;
    expect(copy.name).toBe('From the second (second tab)');
    expect(copy.id).not.toBe(top.id);
    expect(writeProject(await stored(first.storage, copy.id))).toBe(writeProject(copy));
  });

  it('the second can take over; the first is told and saves no more', async () => {
    const { first, firstSave, second, secondSave } = await twoTabs();
    first.rename('From the first');
    await firstSave.flush();
    await secondSave.takeOver();
    expect(second.store.getState()).toMatchObject({ garment: { name: 'From the first' }, saved: 'saved' });
    await until(() => expect(first.store.getState()).toMatchObject({ saved: 'failed', notice: { tone: 'warning' } }));
    first.rename('Too late');
    await firstSave.flush();
    expect((await stored(first.storage, top.id)).name).toBe('From the first');
    second.rename('From the second');
    await untilNamed(first.storage, top.id, 'From the second');
  });
});
