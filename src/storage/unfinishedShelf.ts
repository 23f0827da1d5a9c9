import { fail, type Outcome, succeed } from '../geometry/outcome';
import type { Database, UnfinishedRecord } from './database';
import type { Box } from './lastMoment';

/** What lay on the table of a garment, and everything it is made of by id. */
export interface UnfinishedFound {
  readonly record: UnfinishedRecord;
  readonly parts: ReadonlyMap<string, unknown>;
}

/** Work that is no piece yet, kept beside the garment it belongs to. */
export interface UnfinishedShelf {
  /**
   * Writes the record and the parts that are new since, and drops parts it names no longer; all of it or nothing.
   * Fails with `parts-missing` when it names a part that is neither new nor stored, as after another tab removed it, and
   * with `storage-full` or `storage-failed`.
   */
  put(record: UnfinishedRecord, fresh: ReadonlyMap<string, unknown>): Promise<Outcome<void>>;
  /** The last resort of a page that is closing, done before it returns. False when there was no room. */
  putAtOnce(record: UnfinishedRecord, fresh: ReadonlyMap<string, unknown>): boolean;
  /** What was put last for a garment; null when there is nothing. Parts may be missing. */
  find(garment: string): Promise<Outcome<UnfinishedFound | null>>;
  /** Every record of a garment without its parts, newest first. */
  list(garment: string): Promise<Outcome<readonly UnfinishedRecord[]>>;
  remove(record: Pick<UnfinishedRecord, 'id' | 'garment'>): Promise<Outcome<void>>;
}

type Attempt = <T>(work: (database: Database) => Promise<Outcome<T>>) => Promise<Outcome<T>>;

export function createUnfinishedShelf(attempt: Attempt, box: Box | null): UnfinishedShelf {
  return {
    put: (record, fresh) =>
      attempt(async (open) => {
        await bringInLeft(open, record.garment, box);
        return (await write(open, record, fresh)) ? succeed(undefined) : partsMissing;
      }),
    putAtOnce(record, fresh) {
      if (box === null) return false;
      try {
        box.setItem(boxKey(record.garment), JSON.stringify({ record, fresh: [...fresh] }, onlyWhatTextHolds));
        return true;
      } catch {
        return false;
      }
    },
    find: (garment) =>
      attempt(async (open) => {
        const [record] = await listed(open, garment, box);
        if (record === undefined) return succeed(null);
        const parts = await open.getAllFromIndex('unfinishedParts', 'record', record.id);
        return succeed({ record, parts: new Map(parts.map(({ id, content }) => [id, content])) });
      }),
    list: (garment) => attempt(async (open) => succeed(await listed(open, garment, box))),
    remove: ({ id, garment }) =>
      attempt(async (open) => {
        await bringInLeft(open, garment, box);
        await removeRecords(open, [id]);
        return succeed(undefined);
      }),
  };
}

async function listed(open: Database, garment: string, box: Box | null): Promise<readonly UnfinishedRecord[]> {
  await bringInLeft(open, garment, box);
  const records = await open.getAllFromIndex('unfinished', 'garment', garment);
  return records.sort((a, b) => b.saved.localeCompare(a.saved));
}

/**
 * Moves what a closing page put down into the database, unless its record was saved later than that. Where parts of it
 * never reached the database, what was saved before stays as it is.
 */
async function bringInLeft(open: Database, garment: string, box: Box | null): Promise<void> {
  const left = box === null ? null : lookAt(box, garment);
  if (left !== null) {
    const saved = await open.get('unfinished', left.record.id);
    if (saved === undefined || saved.saved < left.record.saved) await write(open, left.record, left.fresh);
  }
  box?.removeItem(boxKey(garment));
}

const partsMissing = fail('parts-missing', 'Parts of what lies on the table are not stored any more.');

/** Takes everything unfinished of a garment away with it. */
export async function removeUnfinishedOf(open: Database, garment: string, box: Box | null): Promise<void> {
  box?.removeItem(boxKey(garment));
  await removeRecords(open, await open.getAllKeysFromIndex('unfinished', 'garment', garment));
}

async function removeRecords(open: Database, ids: readonly string[]): Promise<void> {
  const change = open.transaction(['unfinished', 'unfinishedParts'], 'readwrite');
  const parts = change.objectStore('unfinishedParts');
  const work = ids.map(async (id) => {
    await change.objectStore('unfinished').delete(id);
    for (const key of await parts.index('record').getAllKeys(id)) await parts.delete(key);
  });
  await Promise.all([...work, change.done]);
}

/** False, with nothing changed, when a part that the record names is neither new nor stored. */
async function write(open: Database, record: UnfinishedRecord, fresh: ReadonlyMap<string, unknown>): Promise<boolean> {
  const change = open.transaction(['unfinished', 'unfinishedParts'], 'readwrite', { durability: 'strict' });
  const parts = change.objectStore('unfinishedParts');
  const needed = new Set(record.parts);
  const work = async () => {
    const stored = await parts.index('record').getAllKeys(record.id);
    const known = new Set([...stored.map(([, id]) => id), ...fresh.keys()]);
    if (record.parts.some((id) => !known.has(id))) return false;
    for (const key of stored) if (!needed.has(key[1])) await parts.delete(key);
    for (const [id, content] of fresh) if (needed.has(id)) await parts.put({ record: record.id, id, content });
    await change.objectStore('unfinished').put(record);
    return true;
  };
  const done = work().catch((error: unknown) => {
    // What the database refuses to copy does not end the change by itself.
    abandon(change);
    throw error;
  });
  const [written] = await Promise.all([done, change.done]);
  return written;
}

function abandon(change: { abort(): void }): void {
  try {
    change.abort();
  } catch {
    // It has ended already, as when there is no room.
  }
}

const boxKey = (garment: string) => `hingeline unfinished ${garment}`;

/** Text holds neither bytes nor numbers without end; better nothing is put down than something else. */
function onlyWhatTextHolds(_key: string, value: unknown): unknown {
  if (value instanceof ArrayBuffer || (typeof value === 'number' && !Number.isFinite(value))) {
    throw new TypeError('Text cannot hold this.');
  }
  return value;
}

interface Left {
  readonly record: UnfinishedRecord;
  readonly fresh: ReadonlyMap<string, unknown>;
}

function lookAt(box: Box, garment: string): Left | null {
  try {
    const left: { record?: UnfinishedRecord; fresh?: [string, unknown][] } | null = JSON.parse(
      box.getItem(boxKey(garment)) ?? 'null',
    );
    const record = left?.record;
    const whole = record?.garment === garment && typeof record.saved === 'string' && Array.isArray(record.parts);
    return whole && Array.isArray(left?.fresh) ? { record, fresh: new Map(left.fresh) } : null;
  } catch {
    return null;
  }
}
