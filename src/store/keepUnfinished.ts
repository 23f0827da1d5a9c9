import { type Failure, fail, type Outcome, succeed } from '../geometry/outcome';
import type { UnfinishedRecord } from '../storage/database';
import type { UnfinishedShelf } from '../storage/unfinishedShelf';
import type { AppStore } from './appCommands';
import { type BringInStore, noPen } from './bringIn';
import { fileName, filesOf, readFile } from './keptFiles';
import { newId } from './newId';
import { unfinished } from './unfinished';
import {
  createPartNames,
  filesNeeded,
  isClear,
  type Lying,
  lyingSentence,
  putTogether,
  takeApart,
  unfinishedForm,
} from './unfinishedForm';

export interface KeepUnfinishedOptions {
  readonly shelf: UnfinishedShelf;
  /** Id of the garment that this tab may save; null for none. */
  readonly held: () => string | null;
  /** The file a picture was read from. */
  readonly fileOf: (id: string) => Blob;
  /** Lays the table as it was, with what has to be computed again. Nothing changes where it fails. */
  readonly layAgain: (lying: Lying, files: ReadonlyMap<string, Blob>) => Promise<Outcome<null>>;
  /** Quiet time after the last change before it is saved, ms. */
  readonly delay?: number;
  /** Time until a save that failed is tried again, ms. */
  readonly retry?: number;
  /** ISO 8601 date-time. */
  readonly now?: () => string;
}

/** What became of what was left on a table: `kept` is stored still but was not laid. */
export type LookedFor =
  | { readonly found: 'nothing' | 'laid' | 'kept' }
  | { readonly found: 'gone'; readonly lying: string | null };

export interface UnfinishedKeeper {
  /**
   * This tab holds a garment now: lays what was left on its table, if the table is clear. If it is not, what lies there
   * is kept beside what was left, and that is said.
   */
  lookFor(garment: string): Promise<LookedFor>;
  /** Saves now what is not saved yet. */
  flush(): Promise<void>;
  stop(): void;
}

/** The record that what lies on this table is kept in. */
interface Slot {
  readonly id: string;
  garment: string;
  /** When it was last written by this tab; null before. */
  stamp: string | null;
}

const clearTable: Lying = { draft: null, pen: noPen, pages: null, picture: null, underlay: null };

/**
 * Keeps what lies on the table and is no piece yet over a reload, beside the garment it belongs to. Files are stored once;
 * what can be computed from them is not stored. Each table has a record of its own, so that none overwrites another.
 */
export function keepUnfinished(
  { actions, getState }: AppStore,
  bringIn: BringInStore,
  options: KeepUnfinishedOptions,
): UnfinishedKeeper {
  const { shelf, held, fileOf, layAgain, delay = 250, retry = 5000, now = () => new Date().toISOString() } = options;
  const names = createPartNames(newId);
  let slot: Slot | null = null;
  // Parts that are stored.
  let written = new Set<string>();
  let saved: Lying = clearTable;
  // A failure is told once, not at every try.
  let failing = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let work: Promise<void> = Promise.resolve();

  function lyingNow(): Lying {
    const { draft, pen, pages, picture, underlay } = bringIn.getState();
    return { draft, pen, pages, picture, underlay };
  }

  function inTurn<T>(job: () => Promise<T>): Promise<T> {
    const done = work.then(job);
    work = done.then(
      () => undefined,
      (error: unknown) => globalThis.reportError?.(error),
    );
    return done;
  }

  /** The record as it would be written now, and its parts; null while this tab may not save. */
  function recordNow(lying: Lying): { record: UnfinishedRecord; parts: ReadonlyMap<string, object> } | null {
    const garment = held();
    if (garment === null || getState().garment?.id !== garment) return null;
    slot ??= { id: newId(), garment, stamp: null };
    slot.garment = garment;
    const { state, parts } = takeApart(lying, names);
    const record = {
      id: slot.id,
      garment,
      saved: now(),
      form: unfinishedForm,
      lying: unfinished(bringIn.getState()),
      state,
      parts: [...parts.keys(), ...filesNeeded(lying).map(fileName)],
    };
    return { record, parts };
  }

  /** `holder`: the garment this tab may save, or might when the table was cleared. */
  async function save(holder = held()): Promise<void> {
    clearTimeout(timer);
    const lying = lyingNow();
    const moved = slot !== null && slot.garment !== holder;
    if (sameTable(lying, saved) && !moved) return;
    const done = await (isClear(lying) ? discard(!moved) : put(lying));
    if (done === null) return;
    if (!done.ok) {
      tellFailure(done);
      return saveSoon(retry, holder);
    }
    failing = false;
    saved = lying;
  }

  /** Null while this tab may not save. */
  async function put(lying: Lying): Promise<Outcome<void> | null> {
    const next = recordNow(lying);
    if (next === null) return null;
    const { record, parts } = next;
    const fresh = new Map<string, unknown>([...parts].filter(([name]) => !written.has(name)));
    for (const id of filesNeeded(lying)) {
      if (written.has(fileName(id))) continue;
      const file = await readFile(fileOf(id));
      if (file !== null) fresh.set(fileName(id), file);
    }
    const done = await shelf.put(record, fresh);
    if (done.ok) {
      written = new Set(record.parts);
      if (slot !== null) slot.stamp = record.saved;
    } else if (done.code === 'parts-missing' && written.size > 0) {
      // They were stored once, and something else removed them.
      written = new Set();
      return put(lying);
    }
    return done;
  }

  /** What another tab goes on with stays stored. */
  async function discard(isMine: boolean): Promise<Outcome<void>> {
    const gone = slot;
    if (gone !== null && isMine) {
      const removed = await shelf.remove(gone);
      if (!removed.ok) return removed;
    }
    startAnew();
    return succeed(undefined);
  }

  /** What lies on the table gets a record of its own at the next save. */
  function startAnew(): void {
    slot = null;
    written = new Set();
    saved = clearTable;
  }

  function tellFailure({ code }: Failure): void {
    if (!failing) {
      const why =
        code === 'storage-full'
          ? 'There is no room here to keep what is not a piece yet.'
          : 'This browser does not let me keep what is not a piece yet.';
      const sentence = `${why} Go on, but make it a piece before you leave this page.`;
      actions.notify({ tone: 'warning', sentence });
    }
    failing = true;
  }

  function saveSoon(after = delay, holder?: string | null): void {
    clearTimeout(timer);
    timer = setTimeout(() => void inTurn(() => save(holder)), after);
  }

  async function lookFor(garment: string): Promise<LookedFor> {
    if (!isClear(lyingNow())) {
      await lieBeside(garment);
      return { found: 'nothing' };
    }
    const found = await shelf.find(garment);
    if (!found.ok || found.value === null) return { found: 'nothing' };
    const { record, parts } = found.value;
    if (record.form > unfinishedForm) {
      sayKept(record, 'It was put there by a newer Hingeline: load the page anew to get that one.');
      return { found: 'kept' };
    }
    const lying = record.form === unfinishedForm ? putTogether(record.state, parts, names) : null;
    const files = filesOf(parts);
    const whole = lying !== null && filesNeeded(lying).every((id) => files.has(id)) ? withoutLocked(lying) : null;
    if (whole === null || isClear(whole)) {
      await shelf.remove(record);
      return whole === null ? { found: 'gone', lying: record.lying } : { found: 'nothing' };
    }
    const laid = await layAgain(whole, files).catch(brokenOff);
    if (!laid.ok) {
      if (!mayPass.has(laid.code)) {
        await shelf.remove(record);
        return { found: 'gone', lying: record.lying };
      }
      if (laid.code !== 'table-taken') sayKept(record, 'It is kept: load the page anew to lay it.');
      else if (getState().garment?.id === garment) sayKept(record, keptBeside);
      return { found: 'kept' };
    }
    slot = { id: record.id, garment, stamp: record.saved };
    written = new Set(record.parts);
    saved = lyingNow();
    const sentence = lyingSentence(whole);
    if (sentence !== null) actions.notify({ tone: 'done', sentence });
    return { found: 'laid' };
  }

  /** Something lies here already: another tab may have gone on with its record meanwhile, or have left one of its own. */
  async function lieBeside(garment: string): Promise<void> {
    const ours = slot === null ? null : await shelf.list(slot.garment);
    const own = ours?.ok ? ours.value.find(({ id }) => id === slot?.id) : undefined;
    if (ours?.ok && own?.saved !== slot?.stamp) startAnew();
    await save();
    const all = await shelf.list(garment);
    const other = all.ok ? all.value.find(({ id, lying }) => id !== slot?.id && lying !== null) : undefined;
    if (other !== undefined) sayKept(other, keptBeside);
  }

  function sayKept({ lying }: UnfinishedRecord, what: string): void {
    const sentence = `“${lying ?? 'The picture'}” was not laid on the table. ${what}`;
    actions.notify({ tone: 'warning', sentence });
  }

  /** A picture is no longer needed under a piece that is locked, or is not there any more. */
  function withoutLocked(lying: Lying): Lying {
    const block = getState().garment?.blocks.find(({ id }) => id === lying.underlay?.piece);
    return block === undefined || block.locked ? { ...lying, underlay: null } : lying;
  }

  const unsubscribe = bringIn.subscribe((lying, before) => {
    if (sameTable(lying, before)) return;
    // What is put away is gone at once, before another garment takes the table.
    const holder = held();
    if (isClear(lying)) void inTurn(() => save(holder));
    else saveSoon();
  });

  const hide = () => {
    if (document.visibilityState !== 'hidden') return;
    const lying = lyingNow();
    // Files are too large to be put down at once; without them it could not be laid again.
    const filesThere = filesNeeded(lying).every((id) => written.has(fileName(id)));
    if (filesThere && !sameTable(lying, saved) && !isClear(lying)) {
      const next = recordNow(lying);
      if (next !== null) {
        shelf.putAtOnce(next.record, new Map([...next.parts].filter(([name]) => !written.has(name))));
      }
    }
    void inTurn(() => save());
  };
  if (typeof document !== 'undefined') document.addEventListener('visibilitychange', hide);

  return {
    lookFor: (garment) => inTurn(() => lookFor(garment)),
    flush: () => inTurn(() => save()),
    stop() {
      unsubscribe();
      clearTimeout(timer);
      if (typeof document !== 'undefined') document.removeEventListener('visibilitychange', hide);
    },
  };
}

const brokenOff = () => fail('work-broke-off', 'This part of Hingeline could not be loaded.');

const keptBeside = 'It is kept: load the page anew once nothing else lies on the table.';

/** Failures that say nothing about the file: another try may go well. */
const mayPass: ReadonlySet<string> = new Set([
  'cancelled',
  'table-taken',
  'picture-no-room',
  'no-progress',
  'worker-failed',
  'work-broke-off',
]);

/** Whether nothing on the table changed that is kept; where the pen hovers is not. */
function sameTable(a: Lying, b: Lying): boolean {
  return (
    a.draft === b.draft &&
    a.pages === b.pages &&
    a.picture === b.picture &&
    a.underlay === b.underlay &&
    a.pen.nodes === b.pen.nodes
  );
}
