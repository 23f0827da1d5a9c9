import type { Outcome } from '../../geometry/outcome';
import type { BringInStore } from '../../store/bringIn';
import type { DrawingReader } from '../../workers/drawingReader';
import type { AnswerOf, AskOf, DrawingTask } from '../../workers/readDrawing';

export interface Workshop {
  readonly bringIn: BringInStore;
  readonly reader: DrawingReader;
}

/** Has something done in the background, with its progress shown and a way to stop it. A second one stops the first. */
export async function watched<Task extends DrawingTask>(
  ask: AskOf<Task>,
  { bringIn, reader }: Workshop,
): Promise<Outcome<AnswerOf<Task>>> {
  bringIn.getState().work?.stop();
  const stop = () => reader.stop();
  bringIn.actions.showWork({ doing: 'Reading the file', share: null, stop });
  const answer = await reader.read(ask, ({ doing, share }) => {
    if (bringIn.getState().work?.stop === stop) bringIn.actions.showWork({ doing, share, stop });
  });
  if (bringIn.getState().work?.stop === stop) bringIn.actions.showWork(null);
  return answer;
}
