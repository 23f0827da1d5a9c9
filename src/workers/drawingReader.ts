import type { Outcome } from '../geometry/outcome';
import { helper } from './client';
import type { Report } from './messages';
import type { AnswerOf, AskOf, DrawingAnswer, DrawingAsk, DrawingTask } from './readDrawing';

/** Reads and joins drawings away from the page, which stays free meanwhile. */
export interface DrawingReader {
  read<Task extends DrawingTask>(ask: AskOf<Task>, report?: Report): Promise<Outcome<AnswerOf<Task>>>;
  /** Stops at once whatever is under way; it answers with the failure `cancelled`. */
  stop(): void;
}

/** ms without a sign of progress after which reading ends by itself; the largest files read report far sooner. */
const patience = 120_000;

export function createDrawingReader(): DrawingReader {
  const worker = helper<DrawingAsk, DrawingAnswer>(
    () => new Worker(new URL('./drawingWorker.ts', import.meta.url), { type: 'module' }),
    patience,
  );
  return {
    // What was asked decides what comes back; a message cannot carry that in its type.
    read: (ask, report) => worker.ask(ask as DrawingAsk, report, handedOver(ask as DrawingAsk)) as never,
    stop: worker.stop,
  };
}

/** The bytes of a file are moved, not copied. */
function handedOver(ask: DrawingAsk): Transferable[] {
  return 'bytes' in ask ? [ask.bytes.buffer as ArrayBuffer] : [];
}
