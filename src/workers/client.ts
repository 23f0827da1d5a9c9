import { fail, type Outcome } from '../geometry/outcome';
import type { Report, WorkerAnswer, WorkerAsk } from './messages';

/** A worker that can be asked things, and stopped in the middle of one. */
export interface Helper<Ask, Answer> {
  ask(ask: Ask, report?: Report, transfer?: Transferable[]): Promise<Outcome<Answer>>;
  /** Stops at once whatever is under way; it answers with the failure `cancelled`. What the worker remembered is gone. */
  stop(): void;
}

/** Starts the worker when it is first asked something, and again after it was stopped. */
export function helper<Ask, Answer>(start: () => Worker): Helper<Ask, Answer> {
  let worker: Worker | null = null;
  let count = 0;
  const waiting = new Map<number, { settle: (answer: Outcome<Answer>) => void; report: Report | undefined }>();

  function settleAll(answer: Outcome<Answer>): void {
    const all = [...waiting.values()];
    waiting.clear();
    for (const { settle } of all) settle(answer);
  }

  function stop(): void {
    worker?.terminate();
    worker = null;
    settleAll(fail('cancelled', 'Stopped. Nothing was changed.'));
  }

  function begin(): Worker {
    const begun = start();
    begun.onmessage = ({ data }: MessageEvent) => {
      const message = data as WorkerAnswer<Answer>;
      const asked = waiting.get(message.id);
      if (message.kind === 'progress') {
        asked?.report?.(message.progress);
        return;
      }
      waiting.delete(message.id);
      asked?.settle(message.answer);
    };
    begun.onerror = () => {
      worker?.terminate();
      worker = null;
      settleAll(fail('worker-failed', 'The part of the program that reads files stopped. Try once more.'));
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
        worker?.postMessage(message, transfer);
      });
    },
    stop,
  };
}
