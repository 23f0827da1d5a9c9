/** The part of the browser's lock manager that is used. */
export type Locks = Pick<LockManager, 'request'>;

/** Sees to it that only one tab saves a garment. */
export interface TabGuard {
  /**
   * Lets go of the garment held before and asks for this one. Answers true when this tab may save it, false when
   * another tab has it; then `onFree` is called once when that tab has let go and this one holds it.
   */
  hold(garment: string, onFree: () => void): Promise<boolean>;
  /** Takes the garment from the tab that has it. That tab is told through its `onLost`. */
  takeOver(garment: string): Promise<void>;
  letGo(): void;
}

/**
 * A guard over Web Locks: a lock is given up by the browser when its tab closes or crashes, so none is left behind.
 * Without Web Locks (null, as on an insecure page) every tab may save. `onLost` is called when another tab took over.
 */
export function createTabGuard(
  onLost: () => void,
  locks: Locks | null = globalThis.navigator?.locks ?? null,
): TabGuard {
  // Ends what is held or aborts what waits.
  let release: (() => void) | null = null;
  // Counts what was asked for, so that a late answer to an earlier question changes nothing.
  let turn = 0;

  function ask(garment: string, options: LockOptions, held: () => void, refused: () => void): () => void {
    let end: (() => void) | null = null;
    let over = false;
    const done = locks!
      .request(`hingeline ${garment}`, options, (lock) => {
        if (lock === null) {
          refused();
          return undefined;
        }
        held();
        return new Promise<void>((resolve) => {
          end = resolve;
          if (over) resolve();
        });
      })
      // A lock that was taken over rejects; so does a wait that was aborted here.
      .catch(() => {
        if (!over && end !== null) onLost();
      });
    void done;
    return () => {
      over = true;
      end?.();
    };
  }

  const guard: TabGuard = {
    hold(garment, onFree) {
      guard.letGo();
      if (!locks) return Promise.resolve(true);
      const mine = turn;
      return new Promise((resolve) => {
        const refused = () => {
          resolve(false);
          if (mine !== turn) return;
          const controller = new AbortController();
          const stop = ask(garment, { signal: controller.signal }, onFree, () => {});
          release = () => {
            stop();
            controller.abort();
          };
        };
        release = ask(garment, { ifAvailable: true }, () => resolve(true), refused);
      });
    },
    takeOver(garment) {
      guard.letGo();
      if (!locks) return Promise.resolve();
      return new Promise((resolve) => {
        release = ask(garment, { steal: true }, resolve, resolve);
      });
    },
    letGo() {
      turn += 1;
      release?.();
      release = null;
    },
  };
  return guard;
}
