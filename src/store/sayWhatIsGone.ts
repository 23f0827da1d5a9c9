import type { AppStore } from './appCommands';
import type { BringInStore } from './bringIn';
import type { LookedFor } from './keepUnfinished';
import { unfinished } from './unfinished';

const keptUnder = 'hingeline.unfinished';

/** Says what was lost, where what lay on the table could not be kept over a reload after all. */
export interface WhatIsGone {
  /** Says what became of what was left, once it was looked for; nothing where nothing is lost. */
  say(looked: LookedFor): void;
  /** The sentence for a start without a garment, where no notice is shown; null where nothing lay there. */
  sentence(): string | null;
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
  function takeSentence(lying: string | null): string | null {
    const named = gone ?? lying;
    gone = null;
    return named === null
      ? null
      : `“${named}” was not a piece yet when the page was left, so it is not on the table any more. Bring it in once more.`;
  }

  return {
    say(looked) {
      // What is there still is not gone, whatever else is looked for later.
      if (looked.found === 'laid' || looked.found === 'kept') gone = null;
      sentence = takeSentence(looked.found === 'gone' ? looked.lying : null);
      if (sentence !== null) store.actions.notify({ tone: 'warning', sentence });
    },
    sentence: () => takeSentence(null),
  };
}
