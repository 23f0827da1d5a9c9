import { fail, type Outcome, succeed } from '../geometry/outcome';
import { sweepReached } from '../geometry/tolerance';
import { workPiece } from '../operations/recipe';
import type { Piece } from '../pattern/piece';
import type { FanStep, Opening, Recipe, SlashLine } from '../pattern/recipe';

const mostRounds = 80;

/**
 * The fan step whose openings, kept in their present proportions, give the piece a hem of `target` mm (closed lines
 * open equally). Measured on the trued hem when the recipe has a true step, else on the chord-bridged one.
 *
 * Where gaps are bridged by chords the sweep is exactly the block's hem plus the openings, so that is where the search
 * starts; a bracket is found and checked, then closed by secants with a bisection whenever they crawl
 * (docs/maths/trueing.md). Refusals: sweep-wrong, no-hem, slash-missing, sweep-not-reached; and what the working of
 * the piece refuses on the way, when no opening short of the target can be worked.
 */
export function openingsForSweep(piece: Piece, recipe: Recipe, step: FanStep, target: number): Outcome<FanStep> {
  if (!(Number.isFinite(target) && target > 0)) {
    return fail('sweep-wrong', 'Type the hem sweep you want, more than nothing.');
  }
  if (step.slashes.length === 0) return fail('slash-missing', 'Add a slash line first; there is nothing to open.');
  const weights = step.slashes.map(({ opening }) => amountOf(opening));
  const closed = weights.every((weight) => weight === 0) && step.sideTurn === 0;
  const base = closed
    ? step.slashes.map((slash) => withAmount(slash, slash.opening.measure === 'angle' ? 0.01 : 1))
    : step.slashes;
  const opened = (factor: number): FanStep => ({
    ...step,
    slashes: base.map((slash) => withAmount(slash, factor * amountOf(slash.opening))),
    sideTurn: factor < 0 ? 0 : factor * step.sideTurn,
  });
  const others = recipe.filter(({ kind }) => kind === 'close-dart' || kind === 'true');
  const excess = (factor: number): Outcome<number> => {
    const worked = workPiece(piece, [opened(factor), ...others]);
    if (!worked.ok) return worked;
    const { sweepAfter } = worked.value;
    return sweepAfter === null
      ? fail('no-hem', `“${piece.name}” has no hem to measure.`)
      : succeed(sweepAfter - target);
  };
  const found = findZero(excess);
  return found.ok ? succeed(opened(found.value)) : found;
}

function notReached(): Outcome<never> {
  return fail(
    'sweep-not-reached',
    'These slash lines cannot give that hem sweep. Add slash lines, or choose another sweep.',
  );
}

/** The factor at which `excess` vanishes, starting from nothing opened. */
function findZero(excess: (factor: number) => Outcome<number>): Outcome<number> {
  const still = excess(0);
  if (!still.ok) return still;
  if (Math.abs(still.value) <= sweepReached) return succeed(0);
  // A small opening tells the rate and the way to go.
  const trial = 0.01;
  const nudged = excess(trial);
  if (!nudged.ok) return nudged;
  const rate = (nudged.value - still.value) / trial;
  if (rate === 0) return notReached();
  let near = { factor: 0, value: still.value };
  let far = near;
  let factor = -still.value / rate;
  for (let round = 0; round < mostRounds; round++) {
    const here = excess(factor);
    if (!here.ok) {
      // Too far to be worked at all: come half the way back, as long as that still brings something.
      factor = (near.factor + factor) / 2;
      if (Math.abs(factor - near.factor) <= 1e-3 * Math.abs(factor)) return here;
      continue;
    }
    if (Math.abs(here.value) <= sweepReached) return succeed(factor);
    if (here.value * near.value < 0) {
      far = { factor, value: here.value };
      break;
    }
    if (Math.abs(here.value) >= Math.abs(near.value)) return notReached();
    near = { factor, value: here.value };
    factor *= 1.5;
  }
  return far === near ? notReached() : closeIn(excess, near, far);
}

interface Try {
  readonly factor: number;
  readonly value: number;
}

/** Illinois secant on a verified bracket: the end that stays has its value halved, so neither end is kept for ever. */
function closeIn(excess: (factor: number) => Outcome<number>, from: Try, to: Try): Outcome<number> {
  let kept = from;
  let last = to;
  let weight = 1;
  for (let round = 0; round < mostRounds; round++) {
    const keptValue = weight * kept.value;
    const factor = last.factor - (last.value * (kept.factor - last.factor)) / (keptValue - last.value);
    const here = excess(factor);
    if (!here.ok) return here;
    if (Math.abs(here.value) <= sweepReached) return succeed(factor);
    if (here.value * last.value < 0) {
      kept = last;
      weight = 1;
    } else {
      weight /= 2;
    }
    last = { factor, value: here.value };
  }
  return notReached();
}

/** Size of an opening in its own measure. */
function amountOf(opening: Opening): number {
  return opening.measure === 'angle' ? opening.angle : opening.hem;
}

/** A slash with its opening set; the far end of one that opens at both ends keeps its proportion. */
function withAmount(slash: SlashLine, amount: number): SlashLine {
  const { opening } = slash;
  switch (opening.measure) {
    case 'angle':
      return { ...slash, opening: { measure: 'angle', angle: amount } };
    case 'arc':
      return { ...slash, opening: { measure: 'arc', hem: amount } };
    case 'chord': {
      const far = opening.hem === 0 ? opening.far : (opening.far * amount) / opening.hem;
      return { ...slash, opening: { measure: 'chord', hem: amount, far } };
    }
  }
}
