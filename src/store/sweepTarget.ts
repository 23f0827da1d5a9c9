import { fail, type Outcome, succeed } from '../geometry/outcome';
import { workPiece } from '../operations/recipe';
import type { Piece } from '../pattern/piece';
import type { FanStep, Recipe } from '../pattern/recipe';
import { openedBy, scaledOpening } from './fanChanges';

/** How near the hem must come to the wished measure, mm; well under the width of a pencil line. */
const sweepAccuracy = 1e-3;
const mostTries = 60;

/**
 * The fan step, its openings made larger or smaller in their present proportion, with which the worked hem of the
 * piece measures `target` mm. A bracketed secant on the factor; the bracket is found, never assumed. Lines that are
 * all closed are opened equally.
 */
export function fanForSweep(piece: Piece, recipe: Recipe, fan: FanStep, target: number): Outcome<FanStep> {
  const closed = fan.slashes.every(({ opening }) => (opening.measure === 'angle' ? opening.angle : opening.hem) === 0);
  const base = closed
    ? { ...fan, slashes: fan.slashes.map((line) => ({ ...line, opening: openedBy(line.opening, 1) })) }
    : fan;
  const opened = (factor: number): FanStep => ({
    ...base,
    slashes: base.slashes.map((line) => ({ ...line, opening: scaledOpening(line.opening, factor) })),
  });
  const sweepAt = (factor: number): Outcome<number> => {
    const others = recipe.filter((step) => step.kind === 'true');
    const worked = workPiece(piece, [opened(factor), ...others]);
    if (!worked.ok) return worked;
    return worked.value.sweepAfter === null
      ? fail('hem-missing', `“${piece.name}” has no hem to measure.`)
      : succeed(worked.value.sweepAfter);
  };
  if (!(Number.isFinite(target) && target > 0))
    return fail('sweep-wrong', 'Type the hem sweep you want, more than nothing.');
  if (fan.slashes.length === 0) return fail('slash-missing', 'Add a slash line first; there is nothing to open.');

  const still = sweepAt(0);
  if (!still.ok) return still;
  const once = sweepAt(1);
  let low = { factor: 0, sweep: still.value };
  if (Math.abs(low.sweep - target) <= sweepAccuracy) return succeed(opened(0));
  const rate = once.ok ? once.value - still.value : fan.slashes.length;
  let high = low;
  let factor = (target - low.sweep) / (rate === 0 ? 1 : rate);
  for (let tries = 0; tries < mostTries; tries += 1) {
    const reached = sweepAt(factor);
    if (!reached.ok) return reached;
    if (Math.abs(reached.value - target) <= sweepAccuracy) return succeed(opened(factor));
    if ((reached.value - target) * (low.sweep - target) < 0) {
      high = { factor, sweep: reached.value };
    } else {
      low = { factor, sweep: reached.value };
    }
    const bracketed = (high.sweep - target) * (low.sweep - target) < 0;
    const secant = low.factor + ((high.factor - low.factor) * (target - low.sweep)) / (high.sweep - low.sweep);
    // Every third try halves the bracket, so that a bent curve cannot make the secant crawl.
    factor = !bracketed ? low.factor * 1.5 : tries % 3 === 2 ? (low.factor + high.factor) / 2 : secant;
  }
  return fail(
    'sweep-not-reached',
    'These slash lines cannot give that hem sweep. Add slash lines or choose another sweep.',
  );
}
