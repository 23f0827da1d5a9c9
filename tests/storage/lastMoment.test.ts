import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { openStorage } from '../../src/storage/storage';
import { attachAutosave } from '../../src/store/autosave';
import { createAppStore } from '../../src/store/store';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { createFakeBox } from '../support/fakeBox';
import { must } from '../support/testStore';

const top = draftSleevelessTop();
const renamed = (name: string) => ({ ...top, name });
let databases = 0;
let clock = 0;

function browser() {
  databases += 1;
  const name = `moment-${databases}`;
  const box = createFakeBox();
  const now = () => new Date(Date.UTC(2026, 0, 1, 0, 0, clock++)).toISOString();
  return { name, box, open: () => openStorage({ name, box, now }) };
}

afterEach(() => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

describe('the last moment of a page', () => {
  it('is found by the next page and then cleared away', async () => {
    const { box, open } = browser();
    await open().saveGarment(top);
    expect(open().saveAtOnce(renamed('Last'))).toBe(true);
    expect(must(await open().loadGarment(top.id)).name).toBe('Last');
    expect(must(await open().listGarments())).toMatchObject([{ name: 'Last' }]);
    expect(box.entries.size).toBe(0);
  });

  it('R25 brings back where the maker was, too', async () => {
    const { open } = browser();
    const before = { garment: top.id, place: 'mark', activePiece: null, activeVersion: null, ghost: null };
    must(await open().saveSession(before));
    const last = { ...before, place: 'fan', activeVersion: 'swing' };
    open().saveAtOnce(top, last);
    expect(must(await open().loadSession())).toEqual(last);
  });

  it('leaves where the maker was alone when that was not put down, or is nonsense', async () => {
    const { box, open } = browser();
    const before = { garment: top.id, place: 'mark', activePiece: null, activeVersion: null, ghost: null };
    must(await open().saveSession(before));
    open().saveAtOnce(top);
    expect(must(await open().loadSession())).toEqual(before);
    open().saveAtOnce(top, before);
    const [[key, value]] = [...box.entries] as [[string, string]];
    box.entries.set(key, JSON.stringify({ ...JSON.parse(value), session: { place: 7 } }));
    expect(must(await open().loadSession())).toEqual(before);
  });

  it('gives way to what was saved later', async () => {
    const { box, open } = browser();
    open().saveAtOnce(renamed('Older'));
    const left = new Map(box.entries);
    await open().saveGarment(renamed('Newer'));
    for (const [key, value] of left) box.entries.set(key, value);
    expect(must(await open().loadGarment(top.id)).name).toBe('Newer');
  });

  it('that cannot be read is kept aside, byte for byte', async () => {
    const { box, open } = browser();
    open().saveAtOnce(top);
    const [[key, value]] = [...box.entries] as [[string, string]];
    box.entries.set(key, JSON.stringify({ ...JSON.parse(value), text: '{"format": "hingeline-pro' }));
    expect(must(await open().listKept())).toMatchObject([{ text: '{"format": "hingeline-pro' }]);
    expect(must(await open().listGarments())).toEqual([]);
    expect(box.entries.size).toBe(0);
  });

  it('keeps the bytes of a damaged record that it takes the place of', async () => {
    const { open, name } = browser();
    const first = open();
    await first.saveGarment(top);
    await first.close();
    const shelf = await openDB(name);
    await shelf.put('garments', { id: top.id, text: 'not a project' });
    shelf.close();
    open().saveAtOnce(renamed('Last'));
    const later = open();
    expect(must(await later.loadGarment(top.id)).name).toBe('Last');
    expect(must(await later.listKept())).toMatchObject([{ garment: top.id, text: 'not a project' }]);
  });

  it('that finds no room stays where it is, and is opened from there', async () => {
    const { box, open } = browser();
    await open().saveGarment(top);
    open().saveAtOnce(renamed('Last'));
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    const storage = open();
    expect(must(await storage.listGarments())).toHaveLength(1);
    expect(must(await storage.loadGarment(top.id)).name).toBe('Last');
    expect(box.entries.size).toBe(1);
    put.mockRestore();
    expect(must(await storage.loadGarment(top.id)).name).toBe('Last');
    expect(box.entries.size).toBe(0);
  });

  it.each(['', 'nonsense', '[]', '{"text": 5, "saved": ""}'])('ignores “%s” in its place', async (junk) => {
    const { box, open } = browser();
    open().saveAtOnce(top);
    for (const key of box.entries.keys()) box.entries.set(key, junk);
    expect(must(await open().listGarments())).toEqual([]);
  });

  it('says so when there is no room, or no such storage', () => {
    const { box, open } = browser();
    vi.spyOn(box, 'setItem').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    expect(open().saveAtOnce(top)).toBe(false);
    expect(openStorage({ box: null }).saveAtOnce(top)).toBe(false);
  });

  it('is used by autosave when the page is hidden with work not saved yet, and only then', async () => {
    const page = Object.assign(new EventTarget(), { visibilityState: 'visible' });
    vi.stubGlobal('document', page);
    const { box, open } = browser();
    const storage = open();
    const store = createAppStore();
    const autosave = attachAutosave(store, storage, { delay: 10_000, locks: null });
    store.actions.openGarment(top);
    await autosave.flush();
    page.visibilityState = 'hidden';
    page.dispatchEvent(new Event('visibilitychange'));
    expect(box.entries.size).toBe(0);
    must(store.commands.renameGarment('Last'));
    page.dispatchEvent(new Event('visibilitychange'));
    expect(box.entries.size).toBe(1);
    await autosave.stop();
    expect(must(await open().loadGarment(top.id)).name).toBe('Last');
  });
});
