import type { AppStore } from './appCommands';
import type { BringInStore } from './bringIn';
import { unfinished } from './unfinished';

const keptUnder = 'hingeline.unfinished';

/**
 * What is not a piece yet is not kept over a reload of the page. Its name is, so that the next start can say what is
 * gone: pictures are far too large to be kept with every change.
 */
export function sayWhatIsGone(store: AppStore, bringIn: BringInStore, memory: Storage | null): void {
  const gone = memory?.getItem(keptUnder) ?? null;
  memory?.removeItem(keptUnder);
  const sentence = `“${gone}” was not a piece yet when the page was left, so it is not on the table any more. Bring it in once more.`;
  if (gone !== null) store.actions.notify({ tone: 'warning', sentence });
  bringIn.subscribe((state, before) => {
    const lying = unfinished(state);
    if (lying === unfinished(before)) return;
    if (lying === null) {
      memory?.removeItem(keptUnder);
      return;
    }
    memory?.setItem(keptUnder, lying);
    // It has been read by whoever goes on.
    if (store.getState().notice?.sentence === sentence) store.actions.notify(null);
  });
}
