import { type Outcome, succeed } from '../geometry/outcome';
import { defaultFan } from '../operations/fan';
import { defaultFinish } from '../operations/finish';
import { defaultTrue } from '../operations/true';
import type { BlockPiece, LengthUnit } from '../pattern/garment';
import type { FanStep, FinishStep, TrueStep } from '../pattern/recipe';

/** The fan a piece would start with, its lengths on the marks of the maker's own tape. Refuses as `defaultFan` does. */
export function usualFan(block: BlockPiece, unit: LengthUnit): Outcome<FanStep> {
  const usual = defaultFan(block);
  if (!usual.ok) return usual;
  const { fullness, slashes } = usual.value;
  return succeed({
    ...usual.value,
    fullness: fullness === null ? null : { ...fullness, downSide: onTape(fullness.downSide, unit) },
    slashes: slashes.map((slash) =>
      slash.opening.measure === 'chord'
        ? { ...slash, opening: { ...slash.opening, hem: onTape(slash.opening.hem, unit) } }
        : slash,
    ),
  });
}

/** The trueing a piece would start with, its lengths on the marks of the maker's own tape. */
export function usualTrue(unit: LengthUnit): TrueStep {
  const usual = defaultTrue();
  const { side } = usual;
  return { ...usual, side: { ...side, up: onTape(side.up, unit), down: onTape(side.down, unit) } };
}

/** The allowances a piece would start with, on the marks of the maker's own tape. */
export function usualFinish(unit: LengthUnit): FinishStep {
  const usual = defaultFinish();
  return { ...usual, seam: onTape(usual.seam, unit), hem: onTape(usual.hem, unit) };
}

/** A usual length brought to the nearest mark on the maker's tape: eighths of an inch, or half centimetres. */
function onTape(length: number, unit: LengthUnit): number {
  const mark = unit === 'in' ? 25.4 / 8 : 5;
  return Math.round(length / mark) * mark;
}
