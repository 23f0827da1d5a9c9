import type { Outcome } from '../geometry/outcome';
import type { UnfinishedRecord } from '../storage/database';
import type { UnfinishedFound, UnfinishedShelf } from '../storage/unfinishedShelf';
import type { AppStore } from './appCommands';
import type { BringInStore } from './bringIn';
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
  /** ISO 8601 date-time. */
  readonly now?: () => string;
}

/** What became of what was left on a table: `kept` is stored still but was not laid. */
export type LookedFor =
  | { readonly found: 'nothing' | 'laid' | 'kept' }
  | { readonly found: 'gone'; readonly lying: string | null };

export interface UnfinishedKeeper {
  /** This tab holds a garment now: lays what was left on its table, if the table is clear. */
  lookFor(garment: string): Promise<LookedFor>;
  /** Saves now what is not saved yet. */
  flush(): Promise<void>;
  stop(): void;
}

/** A picked file as it is stored: browsers differ in keeping files themselves. */
interface KeptFile {
  readonly bytes: ArrayBuffer;
  readonly name: string;
  readonly type: string;
}

/**
 * Keeps what lies on the table and is no piece yet over a reload, beside the garment it belongs to. Files are stored once;
 * what can be computed from them is not stored. Each table has a record of its own, so that none overwrites another.
 */
export function keepUnfinished(
  { actions, getState }: AppStore,
  bringIn: BringInStore,
  options: KeepUnfinishedOptions,
): UnfinishedKeeper {
  const { shelf, held, fileOf, layAgain, delay = 250, now = () => new Date().toISOString() } = options;
  const names = createPartNames(newId);
  let slot: { readonly id: string; garment: string } | null = null;
  let written = new Set<string>();
  let saved: Lying = lyingNow();
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
    slot ??= { id: newId(), garment };
    slot.garment = garment;
    const { state, parts } = takeApart(lying, names);
    const record = {
      ...slot,
      saved: now(),
      form: unfinishedForm,
      lying: unfinished(bringIn.getState()),
      state,
      parts: [...parts.keys(), ...filesNeeded(lying).map(fileName)],
    };
    return { record, parts };
  }

  async function save(): Promise<void> {
    clearTimeout(timer);
    const lying = lyingNow();
    const moved = slot !== null && slot.garment !== held();
    if (sameTable(lying, saved) && !moved) return;
    if (isClear(lying)) {
      saved = lying;
      return discard();
    }
    const next = recordNow(lying);
    if (next === null) return;
    const { record, parts } = next;
    const fresh = new Map<string, unknown>([...parts].filter(([name]) => !written.has(name)));
    for (const id of filesNeeded(lying)) {
      if (written.has(fileName(id))) continue;
      const file = await readFile(fileOf(id));
      if (file !== null) fresh.set(fileName(id), file);
    }
    const put = await shelf.put(record, fresh);
    if (!put.ok) {
      tellFailure();
      return;
    }
    failing = false;
    saved = lying;
    written = new Set(record.parts);
    if (!sameTable(lyingNow(), lying)) saveSoon();
  }

  async function discard(): Promise<void> {
    const gone = slot;
    slot = null;
    written = new Set();
    if (gone !== null) await shelf.remove(gone);
  }

  function tellFailure(): void {
    if (!failing) {
      const sentence =
        'There is no room here to keep what is not a piece yet. Go on, but make it a piece before you leave this page.';
      actions.notify({ tone: 'warning', sentence });
    }
    failing = true;
  }

  function saveSoon(): void {
    clearTimeout(timer);
    timer = setTimeout(() => void inTurn(save), delay);
  }

  async function lookFor(garment: string): Promise<LookedFor> {
    if (!isClear(lyingNow())) {
      saveSoon();
      return { found: 'nothing' };
    }
    const found = await shelf.find(garment);
    if (!found.ok || found.value === null) return { found: 'nothing' };
    const { record, parts } = found.value;
    const lying = record.form === unfinishedForm ? putTogether(record.state, parts, names) : null;
    const files = filesOf(found.value);
    const whole = lying !== null && filesNeeded(lying).every((id) => files.has(id)) ? withoutLocked(lying) : null;
    if (whole === null || isClear(whole)) {
      await shelf.remove(record);
      return whole === null ? { found: 'gone', lying: record.lying } : { found: 'nothing' };
    }
    const laid = await layAgain(whole, files);
    if (!laid.ok) {
      if (!mayPass.has(laid.code)) {
        await shelf.remove(record);
        return { found: 'gone', lying: record.lying };
      }
      if (laid.code !== 'table-taken') {
        const sentence = `“${record.lying ?? 'The picture'}” was not laid on the table. It is kept: load the page anew to lay it.`;
        actions.notify({ tone: 'warning', sentence });
      }
      return { found: 'kept' };
    }
    slot = { id: record.id, garment };
    written = new Set(record.parts);
    saved = lyingNow();
    const sentence = lyingSentence(whole);
    if (sentence !== null) actions.notify({ tone: 'done', sentence });
    return { found: 'laid' };
  }

  /** A picture is no longer needed under a piece that is locked, or is not there any more. */
  function withoutLocked(lying: Lying): Lying {
    const block = getState().garment?.blocks.find(({ id }) => id === lying.underlay?.piece);
    return block === undefined || block.locked ? { ...lying, underlay: null } : lying;
  }

  const unsubscribe = bringIn.subscribe(() => {
    const lying = lyingNow();
    if (sameTable(lying, saved)) return;
    // What is put away is gone at once, before another garment takes the table.
    if (isClear(lying)) void inTurn(save);
    else saveSoon();
  });

  const hide = () => {
    if (document.visibilityState !== 'hidden') return;
    const lying = lyingNow();
    if (!sameTable(lying, saved) && !isClear(lying)) {
      const next = recordNow(lying);
      if (next !== null) {
        shelf.putAtOnce(next.record, new Map([...next.parts].filter(([name]) => !written.has(name))));
      }
    }
    void inTurn(save);
  };
  if (typeof document !== 'undefined') document.addEventListener('visibilitychange', hide);

  return {
    lookFor: (garment) => inTurn(() => lookFor(garment)),
    flush: () => inTurn(save),
    stop() {
      unsubscribe();
      clearTimeout(timer);
      if (typeof document !== 'undefined') document.removeEventListener('visibilitychange', hide);
    },
  };
}

/** Failures that say nothing about the file: another try may go well. */
const mayPass: ReadonlySet<string> = new Set([
  'cancelled',
  'table-taken',
  'picture-no-room',
  'no-progress',
  'worker-failed',
  'work-broke-off',
]);

const fileName = (id: string) => `file ${id}`;

async function readFile(file: Blob): Promise<KeptFile | null> {
  const bytes = await file.arrayBuffer().catch(() => null);
  if (bytes === null || bytes.byteLength === 0) return null;
  return { bytes, name: file instanceof File ? file.name : '', type: file.type };
}

function filesOf({ parts }: UnfinishedFound): ReadonlyMap<string, Blob> {
  const files = new Map<string, Blob>();
  for (const [name, content] of parts) {
    if (!name.startsWith(fileName('')) || typeof content !== 'object' || content === null) continue;
    const { bytes, name: called, type } = content as KeptFile;
    files.set(name.slice(fileName('').length), new File([bytes], called, { type }));
  }
  return files;
}

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
