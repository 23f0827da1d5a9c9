import { pdfLimits } from './limits';

/** How many are counting at present, and the clock that was there before the first of them. */
let counting = 0;
let clock: typeof Date.now = Date.now;
let turns = 0;

/**
 * Does `work` and answers what it does, or `too-many` when the library took more turns than any pattern needs. Groups,
 * masks, tiling patterns and letters made of drawings are worked through by the library to their end before it hands over a
 * first operator, and without letting anything else of this thread happen, so that neither a count of operators nor a clock
 * of ours could end them. What it does ask, at the start of each of them and after every hundred operators, is the time:
 * there it is counted, and stopped.
 */
export async function countingTurns<T>(work: () => Promise<T>): Promise<T | 'too-many'> {
  if (counting === 0) {
    turns = 0;
    clock = Date.now;
    Date.now = counted;
  }
  counting++;
  try {
    const answer = await work();
    return turns > pdfLimits.turns ? 'too-many' : answer;
  } catch (error) {
    if (turns > pdfLimits.turns) return 'too-many';
    throw error;
  } finally {
    counting--;
    if (counting === 0) Date.now = clock;
  }
}

function counted(): number {
  turns++;
  // The library leaves out what fails, and goes on; everything it would begin after this fails at once as well.
  if (turns > pdfLimits.turns) throw new Error('More turns than any pattern needs.');
  return clock();
}
