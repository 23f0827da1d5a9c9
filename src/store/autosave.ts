import type { Garment } from '../pattern/garment';
import type { Storage } from '../storage/storage';
import type { Locks } from '../storage/tabGuard';
import type { AppStore } from './appCommands';
import type { Desk, DeskNow } from './desk';
import { createJobs } from './jobs';
import { newId as randomId } from './newId';
import { createSaver } from './saveDesk';
import { shareGarment } from './shareGarment';

export interface AutosaveOptions {
  /** Quiet time after the last change before it is saved, ms. */
  readonly delay?: number;
  /** Time until a save that failed is tried again, ms. */
  readonly retry?: number;
  readonly newId?: () => string;
  /** The browser's lock manager unless given; null for none. */
  readonly locks?: Locks | null;
  /** This tab may save the garment from now on. */
  readonly onHeld?: (garment: string) => void;
}

export interface Autosave {
  /** Saves now what is not saved yet; resolves when it is done or has failed. */
  flush(): Promise<void>;
  /** Takes the open garment from the tab that has it, and goes on with what that tab saved last. */
  takeOver(): Promise<void>;
  /** Id of the garment that this tab may save; null while there is none. */
  held(): string | null;
  stop(): Promise<void>;
}

/**
 * Saves the open garment and the maker's place after every change. A garment that another tab has open is not saved
 * here; this is said plainly, and when that tab is gone the work of both is kept: what was changed here becomes a copy.
 */
export function attachAutosave(store: AppStore, storage: Storage, options: AutosaveOptions = {}): Autosave {
  const { delay = 50, retry = 5000, newId = randomId, locks, onHeld = () => {} } = options;
  const { getState } = store;
  const table: DeskNow = { desk: null };
  const jobs = createJobs(retry);
  const saver = createSaver({ store, storage, jobs, table, delay, retry });
  const share = shareGarment({ store, storage, jobs, table, saver, newId, locks, onHeld });

  /** A garment came onto the table, or the table was cleared. */
  async function change(garment: Garment | null): Promise<void> {
    const shown = getState().garment?.id;
    // Done again later, it may come too late: the next garment has its desk already.
    if (table.desk?.id === shown && shown !== garment?.id) return;
    if (table.desk) await saver.saveDesk(table.desk);
    share.letGo();
    if (!garment) {
      table.desk = null;
      return saver.saveSession();
    }
    const now = getState().garment;
    const latest = now?.id === garment.id ? now : garment;
    const next: Desk = { id: garment.id, latest, agreed: garment, saved: null, mayWrite: false, known: false };
    table.desk = next;
    await share.claim(next);
  }

  let seen: Garment | null = null;
  function look(): void {
    const { garment } = getState();
    const { desk } = table;
    if (garment !== seen) {
      const changed = garment?.id !== seen?.id;
      seen = garment;
      if (changed) {
        void jobs.inTurn(() => change(garment));
        return;
      }
      if (desk && garment && desk.id === garment.id) desk.latest = garment;
    }
    if (!desk || desk.mayWrite) saver.saveSoon();
  }

  const unsubscribe = store.subscribe((state, before) => {
    const moved = (['garment', 'place', 'activePiece', 'activeVersion', 'ghost'] as const).some(
      (key) => state[key] !== before[key],
    );
    if (moved) look();
  });
  const hide = () => {
    if (document.visibilityState !== 'hidden') return;
    saver.saveAtOnce();
    void jobs.inTurn(saver.saveAll);
  };
  if (typeof document !== 'undefined') document.addEventListener('visibilitychange', hide);
  look();

  return {
    flush: () => jobs.inTurn(saver.saveAll),
    takeOver: () => jobs.inTurn(share.takeOver),
    held: () => (table.desk?.mayWrite && table.desk.known ? table.desk.id : null),
    async stop() {
      jobs.stop();
      unsubscribe();
      if (typeof document !== 'undefined') document.removeEventListener('visibilitychange', hide);
      await jobs.inTurn(saver.saveAll);
      saver.stop();
      share.letGo();
    },
  };
}
