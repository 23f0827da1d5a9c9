import type { AppStore } from './appCommands';
import type { BringInStore } from './bringIn';
import { unfinished } from './unfinished';

const keptUnder = 'hingeline.unfinished';

/** Says what was lost, where what lay on the table could not be kept over a reload after all. */
export interface WhatIsGone {
  /** Says so of what lay there when this tab was left, or else of `lying`; nothing where neither is named. */
  say(lying?: string): void;
}

/**
 * The tab remembers the name of what lies on the table and is no piece yet, so that the next start can say what is gone
 * if it cannot be laid again.
 */
export function sayWhatIsGone(store: AppStore, bringIn: BringInStore, memory: Storage | null): WhatIsGone {
  let gone = memory?.getItem(keptUnder) ?? null;
  memory?.removeItem(keptUnder);
  let sentence: string | null = null;
  bringIn.subscribe((state, before) => {
    const lying = unfinished(state);
    if (lying === unfinished(before)) return;
    if (lying === null) {
      memory?.removeItem(keptUnder);
      return;
    }
    memory?.setItem(keptUnder, lying);
    // It has been read by whoever goes on.
    if (sentence !== null && store.getState().notice?.sentence === sentence) store.actions.notify(null);
  });
  return {
    say(lying) {
      const named = gone ?? lying;
      if (named === undefined) return;
      sentence = `“${named}” was not a piece yet when the page was left, so it is not on the table any more. Bring it in once more.`;
      gone = null;
      store.actions.notify({ tone: 'warning', sentence });
    },
  };
}
