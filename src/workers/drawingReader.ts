import { type Outcome, succeed } from '../geometry/outcome';
import { helper } from './client';
import type { Report } from './messages';
import { type Packed, packPaths, unpackPaths } from './packPaths';
import type { AnswerOf, AskOf, DrawingTask } from './readDrawing';

/** Reads and joins drawings away from the page, which stays free meanwhile. */
export interface DrawingReader {
  read<Task extends DrawingTask>(ask: AskOf<Task>, report?: Report): Promise<Outcome<AnswerOf<Task>>>;
  /** Stops at once whatever is under way; it answers with the failure `cancelled`. */
  stop(): void;
}

/** ms without a sign of progress after which reading ends by itself; the largest files read report far sooner. */
const patience = 120_000;

export function createDrawingReader(): DrawingReader {
  const worker = helper<Packed, Packed>(
    () => new Worker(new URL('./drawingWorker.ts', import.meta.url), { type: 'module' }),
    patience,
  );
  return {
    async read<Task extends DrawingTask>(ask: AskOf<Task>, report?: Report) {
      const packed = packPaths(ask);
      const answer = await worker.ask(packed, report, [packed.numbers.buffer, ...bytesOf(ask)]);
      return answer.ok ? succeed(unpackPaths<AnswerOf<Task>>(answer.value)) : answer;
    },
    stop: worker.stop,
  };
}

/** The bytes of a file are moved, not copied. */
function bytesOf(ask: AskOf<DrawingTask>): Transferable[] {
  return 'bytes' in ask ? [ask.bytes.buffer as ArrayBuffer] : [];
}
