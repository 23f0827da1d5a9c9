import type { LengthUnit } from '../../pattern/garment';
import type { FanStep, FinishStep, TrueStep } from '../../pattern/recipe';

/** A usual length brought to the nearest mark on the maker's own tape: eighths of an inch, or half centimetres. */
export function neatLength(length: number, unit: LengthUnit): number {
  const mark = unit === 'in' ? 25.4 / 8 : 5;
  return Math.round(length / mark) * mark;
}

export function neatFan(step: FanStep, unit: LengthUnit): FanStep {
  return {
    ...step,
    fullness: step.fullness === null ? null : { ...step.fullness, downSide: neatLength(step.fullness.downSide, unit) },
    slashes: step.slashes.map((slash) =>
      slash.opening.measure === 'chord'
        ? { ...slash, opening: { ...slash.opening, hem: neatLength(slash.opening.hem, unit) } }
        : slash,
    ),
  };
}

export function neatTrue(step: TrueStep, unit: LengthUnit): TrueStep {
  const { side } = step;
  return { ...step, side: { ...side, up: neatLength(side.up, unit), down: neatLength(side.down, unit) } };
}

export function neatFinish(step: FinishStep, unit: LengthUnit): FinishStep {
  return { ...step, seam: neatLength(step.seam, unit), hem: neatLength(step.hem, unit) };
}
