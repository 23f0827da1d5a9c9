import type { BringInStore } from '../../store/bringIn';
import { unfinished } from '../../store/unfinished';

/** Whether what lies on the table may make room for something else. The maker is asked only when work would be lost. */
export function mayPutAway(bringIn: BringInStore, instead: string): Promise<boolean> {
  const lying = unfinished(bringIn.getState());
  if (lying === null) return Promise.resolve(true);
  bringIn.getState().question?.answer(false);
  return new Promise((resolve) => {
    const answer = (putAway: boolean) => {
      bringIn.actions.ask(null);
      resolve(putAway);
    };
    bringIn.actions.ask({ lying, instead, answer });
  });
}
