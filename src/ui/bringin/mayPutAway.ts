import type { BringInStore, PutAwayQuestion } from '../../store/bringIn';
import { unfinished } from '../../store/unfinished';
import { shortName } from './nameFromFile';

/** Whether what lies on the table may make room for something else. The maker is asked only when work would be lost. */
export function mayPutAway(bringIn: BringInStore, instead: string): Promise<boolean> {
  const lying = unfinished(bringIn.getState());
  if (lying === null) return Promise.resolve(true);
  return askFirst(bringIn, {
    title: `“${shortName(lying)}” is not a piece yet`,
    warning: 'What was done to it on the table so far would be put away.',
    instead,
  });
}

/** Asks the maker; a question that stands already is answered with no. */
export function askFirst(bringIn: BringInStore, question: Omit<PutAwayQuestion, 'answer'>): Promise<boolean> {
  bringIn.getState().question?.answer(false);
  return new Promise((resolve) => {
    const answer = (putAway: boolean) => {
      bringIn.actions.ask(null);
      resolve(putAway);
    };
    bringIn.actions.ask({ ...question, answer });
  });
}
