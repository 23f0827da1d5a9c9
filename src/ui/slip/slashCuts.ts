import type { FannedPiece, OpenedCut } from '../../operations/worked';
import type { FanStep } from '../../pattern/recipe';

/** The opened slash lines in the order of the recipe, from the centre line to the side. */
export function slashCuts(fanned: FannedPiece, step: FanStep): readonly OpenedCut[] {
  return step.slashes.flatMap((slash) => fanned.cuts.find((cut) => cut.id === slash.id) ?? []);
}
