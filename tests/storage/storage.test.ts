import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { writeProject } from '../../src/exchange/project/projectFile';
import type { Outcome } from '../../src/geometry/outcome';
import type { Garment } from '../../src/pattern/garment';
import { openStorage } from '../../src/storage/storage';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';

let databases = 0;
function fresh() {
  databases += 1;
  const name = `test-${databases}`;
  let tick = 0;
  const now = () => new Date(Date.UTC(2026, 0, 1, 0, 0, tick++)).toISOString();
  return { name, storage: openStorage({ name, now }) };
}

function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

/** Writes a record's bytes behind the storage's back. */
async function corrupt(name: string, id: string, text: string): Promise<void> {
  const database = await openDB(name);
  await database.put('garments', { id, text });
  database.close();
}

const top = draftSleevelessTop();
const skirt = draftStraightSkirt();

afterEach(() => vi.restoreAllMocks());

describe('storage', () => {
  it('gives back a saved garment unchanged, also to a later session', async () => {
    const { name, storage } = fresh();
    expect((await storage.saveGarment(top)).ok).toBe(true);
    await storage.close();
    expect(value(await openStorage({ name }).loadGarment(top.id))).toStrictEqual(top);
    expect(value(await openStorage({ name }).savedText(top.id))).toBe(writeProject(top));
  });

  it('lists titles newest first, renames and deletes', async () => {
    const { storage } = fresh();
    await storage.saveGarment(top);
    await storage.saveGarment(skirt);
    expect(value(await storage.listGarments()).map((title) => title.name)).toEqual([
      'Straight skirt',
      'Sleeveless top',
    ]);
    expect(value(await storage.renameGarment(top.id, ' Summer top '))).toMatchObject({
      name: 'Summer top',
      pieces: 2,
      versions: 0,
    });
    expect(value(await storage.loadGarment(top.id))).toStrictEqual({ ...top, name: 'Summer top' });
    expect(value(await storage.listGarments())[0]!.name).toBe('Summer top');
    await storage.deleteGarment(top.id);
    expect(value(await storage.listGarments()).map((title) => title.id)).toEqual([skirt.id]);
    expect(await storage.loadGarment(top.id)).toMatchObject({ ok: false, code: 'garment-not-saved' });
    expect(await storage.renameGarment(top.id, 'x')).toMatchObject({ ok: false, code: 'garment-not-saved' });
    expect(await storage.renameGarment(skirt.id, '  ')).toMatchObject({ ok: false, code: 'name-blank' });
  });

  it('remembers the session', async () => {
    const { storage } = fresh();
    expect(value(await storage.loadSession())).toBeNull();
    const session = { garment: top.id, place: 'fan', activePiece: 'front', activeVersion: null, ghost: 'block' };
    await storage.saveSession(session);
    expect(value(await storage.loadSession())).toEqual(session);
  });

  it.each([
    ['cut short', writeProject(top).slice(0, 900)],
    ['nonsense', '\u0000\u0001 not a project'],
    ['from a newer program', writeProject(top).replace(/"version": \d+/, '"version": 99')],
  ])('keeps the bytes of a record that is %s, also when it is saved over', async (_, bytes) => {
    const { name, storage } = fresh();
    await storage.saveGarment(top);
    await corrupt(name, top.id, bytes);
    const read = await storage.loadGarment(top.id);
    expect(read).toMatchObject({ ok: false, code: 'record-damaged' });
    expect(read.ok ? '' : read.sentence).toMatch(/data is kept/);
    expect(value(await storage.listGarments())).toMatchObject([{ id: top.id, damaged: true }]);
    expect(value(await storage.savedText(top.id))).toBe(bytes);

    await storage.saveGarment(top);
    expect(value(await storage.listKept()).map((record) => [record.garment, record.text])).toEqual([[top.id, bytes]]);
    expect(value(await storage.listGarments())).toMatchObject([{ damaged: false }]);
    await storage.saveGarment(top);
    expect(value(await storage.listKept())).toHaveLength(1);
  });

  it('keeps the bytes of a damaged record that is saved over without having been opened', async () => {
    const { name, storage } = fresh();
    await storage.saveGarment(top);
    await storage.close();
    await corrupt(name, top.id, 'not a project');
    const later = openStorage({ name });
    expect((await later.saveGarment(top)).ok).toBe(true);
    expect(value(await later.listKept())).toMatchObject([{ garment: top.id, text: 'not a project' }]);
    expect(value(await later.loadGarment(top.id))).toStrictEqual(top);
  });

  it('says so when there is no room, and leaves what was saved whole', async () => {
    const { storage } = fresh();
    await storage.saveGarment(top);
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    const changed: Garment = { ...top, name: 'Changed' };
    const refused = await storage.saveGarment(changed);
    expect(refused).toMatchObject({ ok: false, code: 'storage-full' });
    put.mockRestore();
    expect(value(await storage.loadGarment(top.id))).toStrictEqual(top);
    expect((await storage.saveGarment(changed)).ok).toBe(true);
  });

  it('says so when the browser gives no database, and works once it does', async () => {
    const { storage } = fresh();
    const open = vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('no', 'SecurityError');
    });
    for (const failed of [await storage.saveGarment(top), await storage.listGarments(), await storage.loadSession()]) {
      expect(failed).toMatchObject({ ok: false, code: 'storage-failed' });
    }
    open.mockRestore();
    expect((await storage.saveGarment(top)).ok).toBe(true);
  });

  it('R35 a database of the form before keeps what was saved in it', async () => {
    const { name, storage } = fresh();
    const old = await openDB(name, 1, {
      upgrade(database) {
        database.createObjectStore('garments', { keyPath: 'id' });
        database.createObjectStore('titles', { keyPath: 'id' });
        database.createObjectStore('kept', { autoIncrement: true });
        database.createObjectStore('session');
      },
    });
    await old.put('garments', { id: top.id, text: writeProject(top) });
    old.close();
    expect(value(await storage.loadGarment(top.id))).toEqual(top);
    expect(value(await storage.unfinished.find(top.id))).toBeNull();
  });

  it('a damaged record that was put aside can be thrown away', async () => {
    const { name, storage } = fresh();
    await storage.saveGarment(top);
    await storage.close();
    const shelf = await openDB(name);
    await shelf.add('kept', { garment: 'a', kept: '2026-01-01T00:00:00.000Z', text: 'first' });
    await shelf.add('kept', { garment: 'b', kept: '2026-01-02T00:00:00.000Z', text: 'second' });
    shelf.close();
    const [first] = value(await storage.listKept());
    expect((await storage.deleteKept(first!.key)).ok).toBe(true);
    expect(value(await storage.listKept()).map(({ text }) => text)).toEqual(['second']);
  });

  it('makes way for a newer program and opens the database anew', async () => {
    const { name, storage } = fresh();
    await storage.saveGarment(top);
    const newer = await openDB(name, 3);
    newer.close();
    // The newer database cannot be opened by this program: a failure, not a hang, and nothing is lost.
    expect(await storage.listGarments()).toMatchObject({ ok: false, code: 'storage-failed' });
  });
});
