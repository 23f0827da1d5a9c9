import { fail, type Outcome } from '../geometry/outcome';
import type { Report, WorkerAnswer, WorkerAsk } from './messages';

/** The part of a worker's global object that is used here. */
interface WorkerScope {
  onmessage: ((event: MessageEvent) => void) | null;
  postMessage(message: unknown, transfer?: Transferable[]): void;
}

/**
 * Answers everything asked of this worker, one after the other. What is thrown becomes a failure, so that the page
 * always hears something. `handOver` names what may be moved instead of copied.
 */
export function serve<Ask, Answer>(
  work: (ask: Ask, report: Report) => Outcome<Answer> | Promise<Outcome<Answer>>,
  handOver: (answer: Answer) => Transferable[] = () => [],
): void {
  const scope = self as unknown as WorkerScope;
  let last: Promise<void> = Promise.resolve();
  scope.onmessage = ({ data }) => {
    const { id, ask } = data as WorkerAsk<Ask>;
    const send = (message: WorkerAnswer<Answer>, transfer: Transferable[] = []) => scope.postMessage(message, transfer);
    const run = async () => {
      try {
        const answer = await work(ask, (progress) => send({ id, kind: 'progress', progress }));
        send({ id, kind: 'answer', answer }, answer.ok ? handOver(answer.value) : []);
      } catch (error) {
        send({ id, kind: 'answer', answer: fail('work-broke-off', brokeOff(error)) });
      }
    };
    last = last.then(run);
  };
}

function brokeOff(error: unknown): string {
  return error instanceof RangeError
    ? 'There is not enough memory for this file. Close other tabs, or save it smaller and try again.'
    : 'This file could not be worked through: something in it is damaged or unheard of. Save it anew and try again.';
}
