import { findStep } from './lookUp';
import type { CloseDartStep, FanStep, Recipe } from './recipe';

/** The darts a recipe closes. */
export function closingsOf(recipe: Recipe): readonly CloseDartStep[] {
  return recipe.filter((step) => step.kind === 'close-dart');
}

/** The fan of a recipe; where it only closes darts, a fan on the same edges with no lines of its own. */
export function fanOrStill(recipe: Recipe): FanStep | undefined {
  const fan = findStep(recipe, 'fan');
  const [closing] = closingsOf(recipe);
  if (fan !== undefined || closing === undefined) return fan;
  const { centre, hem, side } = closing;
  return { kind: 'fan', centre, hem, side, fullness: null, slashes: [], centreRule: 'parallel', sideTurn: 0 };
}
