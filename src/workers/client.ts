import { fail, type Outcome } from '../geometry/outcome';
import type { Report, WorkerAnswer, WorkerAsk } from './messages';

/** A worker that can be asked things, and stopped in the middle of one. */
export interface Helper<Ask, Answer> {
  ask(ask: Ask, report?: Report, transfer?: Transferable[]): Promise<Outcome<Answer>>;
  /** Stops at once whatever is under way; it answers with the failure `cancelled`. What the worker remembered is gone. */
  stop(): void;
}

/** ms between looks at whether there was a sign of progress. */
const look = 5_000;

/**
 * Starts the worker when it is first asked something, and again after it was stopped. `patience`: ms without a sign of
 * progress or an answer after which it is ended by itself, and what it was asked answers with the failure `no-progress`.
 * It is counted in looks, so that hours in which the computer sleeps do not count.
 */
export function helper<Ask, Answer>(start: () => Worker, patience = Number.POSITIVE_INFINITY): Helper<Ask, Answer> {
  let worker: Worker | null = null;
  let count = 0;
  let silent = 0;
  let watch: ReturnType<typeof setInterval> | null = null;
  const waiting = new Map<number, { settle: (answer: Outcome<Answer>) => void; report: Report | undefined }>();

  function settleAll(answer: Outcome<Answer>): void {
    const all = [...waiting.values()];
    waiting.clear();
    rest();
    for (const { settle } of all) settle(answer);
  }

  function end(answer: Outcome<Answer>): void {
    worker?.terminate();
    worker = null;
    settleAll(answer);
  }

  function stop(): void {
    end(fail('cancelled', 'Stopped. Nothing was changed.'));
  }

  function watchOver(): void {
    if (watch !== null || patience === Number.POSITIVE_INFINITY) return;
    silent = 0;
    watch = setInterval(() => {
      silent += look;
      if (silent >= patience) end(fail('no-progress', endedBy(patience)));
    }, look);
  }

  function rest(): void {
    if (watch !== null) clearInterval(watch);
    watch = null;
  }

  function begin(): Worker {
    const begun = start();
    begun.onmessage = ({ data }: MessageEvent) => {
      const message = data as WorkerAnswer<Answer>;
      const asked = waiting.get(message.id);
      silent = 0;
      if (message.kind === 'progress') {
        asked?.report?.(message.progress);
        return;
      }
      waiting.delete(message.id);
      if (waiting.size === 0) rest();
      asked?.settle(message.answer);
    };
    begun.onerror = () => {
      end(fail('worker-failed', 'The part of the program that reads files stopped. Try once more.'));
    };
    return begun;
  }

  return {
    ask(ask, report, transfer = []) {
      worker ??= begin();
      count++;
      const message: WorkerAsk<Ask> = { id: count, ask };
      return new Promise((settle) => {
        waiting.set(message.id, { settle, report });
        watchOver();
        worker?.postMessage(message, transfer);
      });
    },
    stop,
  };
}

function endedBy(patience: number): string {
  const minutes = Math.round(patience / 60_000);
  return `There was no sign of progress for ${minutes} ${minutes === 1 ? 'minute' : 'minutes'}, so the reading was ended. Save only the pages or the lines with the pattern pieces to a new file and open that.`;
}
