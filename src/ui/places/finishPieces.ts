import { type Outcome, succeed } from '../../geometry/outcome';
import { withStep } from '../../pattern/edits';
import type { Garment } from '../../pattern/garment';
import type { FinishStep } from '../../pattern/recipe';
import type { AppStore } from '../../store/appCommands';

/**
 * Gives several pieces of the version on the table the same allowances in one undo step. With the block on the table
 * the first piece starts the version, and the others follow.
 */
export function finishPieces(store: AppStore, pieces: readonly string[], step: FinishStep): Outcome<Garment> | null {
  const [first, ...others] = pieces;
  if (first === undefined) return null;
  if (store.getState().activeVersion === null) {
    const started = store.commands.setFinish(first, step);
    return started.ok && others.length > 0 ? finishPieces(store, others, step) : started;
  }
  return store.actions.commit('Allowances', (garment) => {
    const version = store.getState().activeVersion;
    let made: Outcome<Garment> = succeed(garment);
    for (const piece of pieces) {
      if (made.ok && version !== null) made = withStep(made.value, version, piece, step);
    }
    return made;
  });
}
