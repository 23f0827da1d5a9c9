import type { Failure } from '../geometry/outcome';
import type { Garment } from '../pattern/garment';
import type { Storage } from '../storage/storage';
import { createTabGuard, type Locks } from '../storage/tabGuard';
import type { AppStore } from './appCommands';
import { type Desk, type DeskNow, sameDocument } from './desk';
import type { Jobs } from './jobs';
import type { Saver } from './saveDesk';

/** Sees to it that a garment open in several tabs is saved by one, and that what any of them changed is kept. */
export interface Share {
  /** Asks for the garment of a new desk, and finds out what is stored of it. */
  claim(now: Desk): Promise<void>;
  takeOver(): Promise<void>;
  letGo(): void;
}

interface ShareOptions {
  readonly store: AppStore;
  readonly storage: Storage;
  readonly jobs: Jobs;
  readonly table: DeskNow;
  readonly saver: Saver;
  readonly newId: () => string;
  readonly locks: Locks | null | undefined;
  /** This tab may save the garment from now on. */
  readonly onHeld: (garment: string) => void;
}

export function shareGarment(options: ShareOptions): Share {
  const { store, storage, jobs, table, saver, newId, onHeld } = options;
  const { actions, getState } = store;
  const guard = createTabGuard(lost, options.locks);

  /** Finds out what is stored of a garment that this tab holds, and saves what is not. */
  async function settle(now: Desk): Promise<void> {
    if (now !== table.desk) return;
    const stored = await storage.loadGarment(now.id);
    if (!stored.ok && cannotTell(stored)) {
      saver.tellFailure(stored.sentence);
      return jobs.tryLater(() => settle(now));
    }
    saver.worksAgain();
    if (stored.ok && sameDocument(stored.value, now.agreed)) {
      now.saved = now.agreed;
      actions.markSaved('saved');
    } else if (stored.ok || stored.code !== 'garment-not-saved') {
      openCopy(now.latest, now.latest.name, 'is saved here already with other content, so this was opened as a copy.');
      return;
    }
    now.known = true;
    await saver.saveDesk(now);
    await saver.saveSession();
    onHeld(now.id);
  }

  async function hold(now: Desk): Promise<void> {
    if (now !== table.desk) return;
    now.mayWrite = await guard.hold(now.id, () => void jobs.inTurn(() => regain(now)));
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
    const now = table.desk;
    if (!now) return;
    now.mayWrite = false;
    void jobs.inTurn(() => hold(now));
  }

  /** The other tab let go, or was taken over from: go on with what it saved, and keep what was changed here. */
  async function regain(now: Desk): Promise<void> {
    if (now !== table.desk) return;
    const stored = await storage.loadGarment(now.id);
    if (!stored.ok && cannotTell(stored)) {
      saver.tellFailure(stored.sentence);
      return jobs.tryLater(() => regain(now));
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
    await saver.saveDesk(now);
    if (now.latest === now.saved) actions.markSaved('saved');
    onHeld(now.id);
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

  return {
    async claim(now) {
      await hold(now);
      if (now.mayWrite) await settle(now);
    },
    async takeOver() {
      const now = table.desk;
      if (!now || now.mayWrite) return;
      await guard.takeOver(now.id);
      await regain(now);
    },
    letGo: guard.letGo,
  };
}

/** Whether it is not known what is stored: nothing may be written over it then. */
function cannotTell({ code }: Failure): boolean {
  return code !== 'garment-not-saved' && code !== 'record-damaged';
}
