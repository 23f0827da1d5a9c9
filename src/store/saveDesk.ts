import { sameData } from '../history/sameData';
import type { Session } from '../storage/database';
import type { Storage } from '../storage/storage';
import type { AppStore } from './appCommands';
import type { Desk, DeskNow } from './desk';
import type { Jobs } from './jobs';

/** Writes the garment and the maker's place, and says how that went. */
export interface Saver {
  saveSoon(after?: number): void;
  saveAll(): Promise<void>;
  saveDesk(now: Desk): Promise<void>;
  saveSession(): Promise<void>;
  /** The last resort of a page that is closing. */
  saveAtOnce(): void;
  /** Tells the maker that nothing is saved; a failure is told once, not at every try. */
  tellFailure(sentence: string): void;
  /** The storage answers again, so the next failure is told. */
  worksAgain(): void;
  stop(): void;
}

interface SaverOptions {
  readonly store: AppStore;
  readonly storage: Storage;
  readonly jobs: Jobs;
  readonly table: DeskNow;
  /** Quiet time after the last change, ms. */
  readonly delay: number;
  /** Time until a save that failed is tried again, ms. */
  readonly retry: number;
}

export function createSaver({ store, storage, jobs, table, delay, retry }: SaverOptions): Saver {
  const { actions, getState } = store;
  let session: Session | null = null;
  let failing = false;
  let timer: ReturnType<typeof setTimeout> | undefined;

  function sessionNow(): Session {
    const { place, activePiece, activeVersion, ghost } = getState();
    return { garment: table.desk?.id ?? null, place, activePiece, activeVersion, ghost };
  }

  const saver: Saver = {
    saveSoon(after = delay) {
      clearTimeout(timer);
      timer = setTimeout(() => void jobs.inTurn(saver.saveAll), after);
    },
    async saveAll() {
      clearTimeout(timer);
      if (table.desk) await saver.saveDesk(table.desk);
      await saver.saveSession();
    },
    async saveDesk(now) {
      if (!now.mayWrite || !now.known || now.latest === now.saved) return;
      const document = now.latest;
      actions.markSaved('saving');
      const done = await storage.saveGarment(document);
      if (!done.ok) {
        saver.tellFailure(done.sentence);
        if (now === table.desk) saver.saveSoon(retry);
        return;
      }
      failing = false;
      now.saved = document;
      now.agreed = document;
      if (now === table.desk) {
        if (now.latest === document) actions.markSaved('saved');
        else saver.saveSoon();
      }
    },
    async saveSession() {
      if (table.desk && !table.desk.mayWrite) return;
      const next = sessionNow();
      if (sameData(session, next)) return;
      if ((await storage.saveSession(next)).ok) session = next;
    },
    saveAtOnce() {
      const { desk } = table;
      const unsaved = desk?.latest !== desk?.saved || !sameData(session, sessionNow());
      if (desk?.mayWrite && desk.known && unsaved) storage.saveAtOnce(desk.latest, sessionNow());
    },
    tellFailure(sentence) {
      actions.markSaved('failed');
      if (!failing) actions.notify({ tone: 'warning', sentence });
      failing = true;
    },
    worksAgain() {
      failing = false;
    },
    stop: () => clearTimeout(timer),
  };
  return saver;
}
