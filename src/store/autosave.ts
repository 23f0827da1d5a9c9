import { writeProject } from '../exchange/project/projectFile';
import type { Failure } from '../geometry/outcome';
import { sameData } from '../history/sameData';
import type { Garment } from '../pattern/garment';
import type { Session } from '../storage/database';
import type { Storage } from '../storage/storage';
import { createTabGuard, type Locks } from '../storage/tabGuard';
import type { AppStore } from './appCommands';
import { newId as randomId } from './newId';

export interface AutosaveOptions {
  /** Quiet time after the last change before it is saved, ms. */
  readonly delay?: number;
  /** Time until a save that failed is tried again, ms. */
  readonly retry?: number;
  readonly newId?: () => string;
  /** The browser's lock manager unless given; null for none. */
  readonly locks?: Locks | null;
}

export interface Autosave {
  /** Saves now what is not saved yet; resolves when it is done or has failed. */
  flush(): Promise<void>;
  /** Takes the open garment from the tab that has it, and goes on with what that tab saved last. */
  takeOver(): Promise<void>;
  stop(): Promise<void>;
}

/** One garment on the table, with what is known of its saved state. */
interface Desk {
  readonly id: string;
  latest: Garment;
  /** The document as this tab first saw it, or as it last agreed with what is stored. */
  agreed: Garment;
  /** What is stored; null when unknown or nothing is. */
  saved: Garment | null;
  /** false while another tab has the garment. */
  mayWrite: boolean;
  /** false until it is known what is stored: nothing is written over it before. */
  known: boolean;
}

/**
 * Saves the open garment and the maker's place after every change. A garment that another tab has open is not saved
 * here; this is said plainly, and when that tab is gone the work of both is kept: what was changed here becomes a copy.
 */
export function attachAutosave(store: AppStore, storage: Storage, options: AutosaveOptions = {}): Autosave {
  const { delay = 50, retry = 5000, newId = randomId } = options;
  const { actions, getState } = store;
  const guard = createTabGuard(lost, options.locks);
  let desk: Desk | null = null;
  let session: Session | null = null;
  // A failure is told once, not at every try.
  let failing = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let work: Promise<void> = Promise.resolve();
  let stopped = false;

  /**
   * Runs jobs one after the other, so that saves and changes of garment never overtake each other. A job that something
   * listening to the store breaks off is done again later: it must not be the last one.
   */
  function inTurn(job: () => Promise<void>): Promise<void> {
    work = work.then(job).catch((error: unknown) => {
      globalThis.reportError?.(error);
      tryLater(job);
    });
    return work;
  }

  function tryLater(job: () => Promise<void>): void {
    setTimeout(() => {
      if (!stopped) void inTurn(job);
    }, retry);
  }

  function tellFailure(sentence: string): void {
    actions.markSaved('failed');
    if (!failing) actions.notify({ tone: 'warning', sentence });
    failing = true;
  }

  function saveSoon(after = delay): void {
    clearTimeout(timer);
    timer = setTimeout(() => void inTurn(saveAll), after);
  }

  async function saveAll(): Promise<void> {
    clearTimeout(timer);
    if (desk) await saveDesk(desk);
    await saveSession();
  }

  async function saveDesk(now: Desk): Promise<void> {
    if (!now.mayWrite || !now.known || now.latest === now.saved) return;
    const document = now.latest;
    actions.markSaved('saving');
    const done = await storage.saveGarment(document);
    if (!done.ok) {
      tellFailure(done.sentence);
      if (now === desk) saveSoon(retry);
      return;
    }
    failing = false;
    now.saved = document;
    now.agreed = document;
    if (now === desk) {
      if (now.latest === document) actions.markSaved('saved');
      else saveSoon();
    }
  }

  async function saveSession(): Promise<void> {
    if (desk && !desk.mayWrite) return;
    const next = sessionNow();
    if (sameData(session, next)) return;
    if ((await storage.saveSession(next)).ok) session = next;
  }

  function sessionNow(): Session {
    const { place, activePiece, activeVersion, ghost } = getState();
    return { garment: desk?.id ?? null, place, activePiece, activeVersion, ghost };
  }

  /** A garment came onto the table, or the table was cleared. */
  async function change(garment: Garment | null): Promise<void> {
    const shown = getState().garment?.id;
    // Done again later, it may come too late: the next garment has its desk already.
    if (desk?.id === shown && shown !== garment?.id) return;
    if (desk) await saveDesk(desk);
    guard.letGo();
    if (!garment) {
      desk = null;
      return saveSession();
    }
    const now = getState().garment;
    const latest = now?.id === garment.id ? now : garment;
    const next: Desk = { id: garment.id, latest, agreed: garment, saved: null, mayWrite: false, known: false };
    desk = next;
    await hold(next);
    if (next.mayWrite) await settle(next);
  }

  /** Finds out what is stored of a garment that this tab holds, and saves what is not. */
  async function settle(now: Desk): Promise<void> {
    if (now !== desk) return;
    const stored = await storage.loadGarment(now.id);
    if (!stored.ok && cannotTell(stored)) {
      tellFailure(stored.sentence);
      return tryLater(() => settle(now));
    }
    failing = false;
    if (stored.ok && sameDocument(stored.value, now.agreed)) {
      now.saved = now.agreed;
      actions.markSaved('saved');
    } else if (stored.ok || stored.code !== 'garment-not-saved') {
      openCopy(now.latest, now.latest.name, 'is saved here already with other content, so this was opened as a copy.');
      return;
    }
    now.known = true;
    await saveDesk(now);
    await saveSession();
  }

  async function hold(now: Desk): Promise<void> {
    if (now !== desk) return;
    now.mayWrite = await guard.hold(now.id, () => void inTurn(() => regain(now)));
    if (!now.mayWrite) {
      actions.markSaved('failed');
      actions.notify({
        tone: 'warning',
        sentence: 'This garment is open in another tab. What you change here is not saved until that tab is closed.',
      });
    }
  }

  /** Another tab took the garment over. */
  function lost(): void {
    const now = desk;
    if (!now) return;
    now.mayWrite = false;
    void inTurn(() => hold(now));
  }

  /** The other tab let go, or was taken over from: go on with what it saved, and keep what was changed here. */
  async function regain(now: Desk): Promise<void> {
    if (now !== desk) return;
    const stored = await storage.loadGarment(now.id);
    if (!stored.ok && cannotTell(stored)) {
      tellFailure(stored.sentence);
      return tryLater(() => regain(now));
    }
    if (!stored.ok || sameDocument(stored.value, now.agreed)) {
      now.saved = stored.ok ? now.agreed : null;
    } else if (now.latest !== now.agreed) {
      openCopy(
        now.latest,
        `${now.latest.name} (second tab)`,
        'was changed in both tabs, so your changes here are kept as a copy.',
      );
      return;
    } else {
      Object.assign(now, { latest: stored.value, agreed: stored.value, saved: stored.value });
      reopen(stored.value);
    }
    Object.assign(now, { mayWrite: true, known: true });
    actions.notify({ tone: 'done', sentence: 'This tab saves the garment again.' });
    await saveDesk(now);
    if (now.latest === now.saved) actions.markSaved('saved');
  }

  /** Shows what the other tab saved, without moving the maker away from where they are. */
  function reopen(garment: Garment): void {
    const { place, activePiece, activeVersion, ghost } = getState();
    actions.openGarment(garment);
    actions.goTo(place);
    if (activePiece !== null) actions.pickPiece(activePiece);
    actions.takeDown(activeVersion);
    actions.layGhost(ghost);
  }

  function openCopy(garment: Garment, name: string, why: string): void {
    actions.openGarment({ ...garment, id: newId(), name });
    actions.notify({ tone: 'warning', sentence: `“${garment.name}” ${why}` });
  }

  let seen: Garment | null = null;
  function look(): void {
    const { garment } = getState();
    if (garment !== seen) {
      const changed = garment?.id !== seen?.id;
      seen = garment;
      if (changed) {
        void inTurn(() => change(garment));
        return;
      }
      if (desk && garment && desk.id === garment.id) desk.latest = garment;
    }
    if (!desk || desk.mayWrite) saveSoon();
  }

  const unsubscribe = store.subscribe((state, before) => {
    const moved = (['garment', 'place', 'activePiece', 'activeVersion', 'ghost'] as const).some(
      (key) => state[key] !== before[key],
    );
    if (moved) look();
  });
  const hide = () => {
    if (document.visibilityState !== 'hidden') return;
    const unsaved = desk?.latest !== desk?.saved || !sameData(session, sessionNow());
    if (desk?.mayWrite && desk.known && unsaved) storage.saveAtOnce(desk.latest, sessionNow());
    void inTurn(saveAll);
  };
  if (typeof document !== 'undefined') document.addEventListener('visibilitychange', hide);
  look();

  return {
    flush: () => inTurn(saveAll),
    takeOver: () =>
      inTurn(async () => {
        const now = desk;
        if (!now || now.mayWrite) return;
        await guard.takeOver(now.id);
        await regain(now);
      }),
    async stop() {
      stopped = true;
      unsubscribe();
      if (typeof document !== 'undefined') document.removeEventListener('visibilitychange', hide);
      await inTurn(saveAll);
      clearTimeout(timer);
      guard.letGo();
    },
  };
}

/** Whether it is not known what is stored: nothing may be written over it then. */
function cannotTell({ code }: Failure): boolean {
  return code !== 'garment-not-saved' && code !== 'record-damaged';
}

/** Whether two garments would be the same project file, however an earlier program laid it out. */
function sameDocument(a: Garment, b: Garment): boolean {
  return a === b || writeProject(a) === writeProject(b);
}
