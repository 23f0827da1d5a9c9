import { readProject, writeProject } from '../exchange/project/projectFile';
import { type Failure, fail, type Outcome, succeed } from '../geometry/outcome';
import { renameGarment } from '../pattern/edits';
import type { Garment } from '../pattern/garment';
import { type Database, type GarmentTitle, type KeptRecord, openDatabase, type Session } from './database';
import { type Box, browserBox, clearAway, lookAt, putDown } from './lastMoment';
import { createUnfinishedShelf, removeUnfinishedOf, type UnfinishedShelf } from './unfinishedShelf';

/** The garments saved in this browser. Nothing throws: what cannot be done is a failure with a sentence. */
export interface Storage {
  /** Saves over the garment of the same id. The bytes of a damaged record are kept aside first. */
  saveGarment(garment: Garment): Promise<Outcome<GarmentTitle>>;
  /**
   * The last resort of a page that is closing: garment, and where the maker was. Done before it returns, found by the
   * next page. False when there was no room.
   */
  saveAtOnce(garment: Garment, session?: Session): boolean;
  /** A record that cannot be read is a failure; it stays where it is, byte for byte. */
  loadGarment(id: string): Promise<Outcome<Garment>>;
  /** Newest first. */
  listGarments(): Promise<Outcome<readonly GarmentTitle[]>>;
  renameGarment(id: string, name: string): Promise<Outcome<GarmentTitle>>;
  deleteGarment(id: string): Promise<Outcome<void>>;
  /** The saved text of a garment as it stands, readable or not, to be taken out as a file. */
  savedText(id: string): Promise<Outcome<string>>;
  /** Bytes of damaged records that were saved over since. */
  listKept(): Promise<Outcome<readonly KeptRecordFound[]>>;
  deleteKept(key: number): Promise<Outcome<void>>;
  /** What lies on the table and is no piece yet. */
  readonly unfinished: UnfinishedShelf;
  loadSession(): Promise<Outcome<Session | null>>;
  saveSession(session: Session): Promise<Outcome<void>>;
  close(): Promise<void>;
}

/** A kept record, and the key it is thrown away by. */
export interface KeptRecordFound extends KeptRecord {
  readonly key: number;
}

export interface StorageOptions {
  /** Name of the database; a test gives its own. */
  readonly name?: string;
  /** ISO 8601 date-time. */
  readonly now?: () => string;
  /** The browser's local storage unless given; null for none. */
  readonly box?: Box | null;
}

/** Opens the saved garments; the database itself is opened at the first use, and again if the browser closed it. */
export function openStorage(options: StorageOptions = {}): Storage {
  const now = options.now ?? (() => new Date().toISOString());
  const box = options.box === undefined ? browserBox() : options.box;
  let opening: Promise<Database> | null = null;
  // Garments whose stored bytes are known to be readable, or kept aside already, so that they may be written over.
  const writable = new Set<string>();

  function database(): Promise<Database> {
    opening ??= openDatabase(options.name ?? 'hingeline', () => {
      opening = null;
    }).catch((error: unknown) => {
      opening = null;
      throw error;
    });
    return opening;
  }

  async function attempt<T>(work: (database: Database) => Promise<Outcome<T>>): Promise<Outcome<T>> {
    try {
      const open = await database();
      // Without room for it, it stays where it is; that must not keep anyone from what was saved before.
      if (box) await bringInLastMoment(open, box).catch(() => {});
      return await work(open);
    } catch (error) {
      return explain(error);
    }
  }

  const storage: Storage = {
    saveGarment: (garment) =>
      attempt(async (open) => {
        const text = writeProject(garment);
        const title = titleOf(garment, now());
        if (!writable.has(garment.id)) await keepDamaged(open, garment.id, title.saved);
        writable.add(garment.id);
        await write(open, title, text);
        return succeed(title);
      }),
    saveAtOnce: (garment, session) =>
      box !== null && putDown(box, { text: writeProject(garment), saved: now(), session: session ?? null }),
    loadGarment: (id) =>
      attempt(async (open) => {
        const left = box && stillLeft(box, id);
        if (left) return succeed(left);
        const record = await open.get('garments', id);
        if (!record) return notThere;
        const read = readProject(record.text);
        if (read.ok) return read;
        writable.delete(id);
        await markDamaged(open, id);
        return fail('record-damaged', `The saved garment cannot be opened, but its data is kept. ${read.sentence}`);
      }),
    listGarments: () =>
      attempt(async (open) => {
        const titles = await open.getAll('titles');
        return succeed(titles.sort((a, b) => b.saved.localeCompare(a.saved)));
      }),
    async renameGarment(id, name) {
      const loaded = await storage.loadGarment(id);
      const renamed = loaded.ok ? renameGarment(loaded.value, name) : loaded;
      return renamed.ok ? storage.saveGarment(renamed.value) : renamed;
    },
    deleteGarment: (id) =>
      attempt(async (open) => {
        const change = open.transaction(['garments', 'titles'], 'readwrite');
        await Promise.all([
          change.objectStore('garments').delete(id),
          change.objectStore('titles').delete(id),
          change.done,
        ]);
        await removeUnfinishedOf(open, id, box);
        return succeed(undefined);
      }),
    savedText: (id) =>
      attempt(async (open) => {
        const record = await open.get('garments', id);
        return record ? succeed(record.text) : notThere;
      }),
    listKept: () =>
      attempt(async (open) => {
        const [keys, records] = await Promise.all([open.getAllKeys('kept'), open.getAll('kept')]);
        return succeed(records.map((record, index) => ({ ...record, key: keys[index]! })));
      }),
    deleteKept: (key) =>
      attempt(async (open) => {
        await open.delete('kept', key);
        return succeed(undefined);
      }),
    unfinished: createUnfinishedShelf(attempt, box),
    loadSession: () => attempt(async (open) => succeed((await open.get('session', 'last')) ?? null)),
    saveSession: (session) =>
      attempt(async (open) => {
        await open.put('session', session, 'last');
        return succeed(undefined);
      }),
    async close() {
      const open = await opening?.catch(() => null);
      open?.close();
      opening = null;
    },
  };
  return storage;
}

function titleOf(garment: Garment, saved: string): GarmentTitle {
  return {
    id: garment.id,
    name: garment.name,
    saved,
    pieces: garment.blocks.length,
    versions: garment.versions.length,
    damaged: false,
  };
}

async function write(open: Database, title: GarmentTitle, text: string): Promise<void> {
  // Strict: the promise of "saved" is only given once the bytes have left for the disk.
  const change = open.transaction(['garments', 'titles'], 'readwrite', { durability: 'strict' });
  const writes = [change.objectStore('garments').put({ id: title.id, text }), change.objectStore('titles').put(title)];
  change.commit();
  await Promise.all([...writes, change.done]);
}

/** Moves what a closing page put down into the database, unless the garment was saved later than that. */
async function bringInLastMoment(open: Database, box: Box): Promise<void> {
  const left = lookAt(box);
  if (!left) return;
  const read = readProject(left.text);
  if (read.ok) {
    const title = await open.get('titles', read.value.id);
    if (!title || title.saved < left.saved) {
      await keepDamaged(open, read.value.id, left.saved);
      await write(open, titleOf(read.value, left.saved), left.text);
    }
    if (left.session) await open.put('session', left.session, 'last');
  } else {
    await open.add('kept', { garment: '', kept: left.saved, text: left.text });
  }
  clearAway(box);
}

/** The garment that a closing page put down and that has found no room in the database yet; null for any other. */
function stillLeft(box: Box, id: string): Garment | null {
  const left = lookAt(box);
  const read = left && readProject(left.text);
  return read?.ok && read.value.id === id ? read.value : null;
}

/** Puts the bytes of a record that cannot be read aside, before they are written over. */
async function keepDamaged(open: Database, id: string, kept: string): Promise<void> {
  const change = open.transaction(['garments', 'titles', 'kept'], 'readwrite');
  const keep = async () => {
    const record = await change.objectStore('garments').get(id);
    if (!record || readProject(record.text).ok) return;
    await change.objectStore('kept').add({ garment: id, kept, text: record.text });
    const title = await change.objectStore('titles').get(id);
    if (title) await change.objectStore('titles').put({ ...title, damaged: false });
  };
  await Promise.all([keep(), change.done]);
}

async function markDamaged(open: Database, id: string): Promise<void> {
  const change = open.transaction('titles', 'readwrite');
  const mark = async () => {
    const title = await change.store.get(id);
    if (title && !title.damaged) await change.store.put({ ...title, damaged: true });
  };
  await Promise.all([mark(), change.done]);
}

const notThere: Failure = fail('garment-not-saved', 'This garment is not saved in this browser.');

/** The sentence for what the browser's database threw. */
function explain(error: unknown): Failure {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  return name === 'QuotaExceededError'
    ? fail(
        'storage-full',
        'There is no room left to save in this browser. Save the garment to a file now, then free some space.',
      )
    : fail(
        'storage-failed',
        'This browser does not let me save here, as in a private window. Save to a file to keep your work.',
      );
}
