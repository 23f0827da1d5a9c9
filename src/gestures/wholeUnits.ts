import type { LengthUnit } from '../pattern/garment';
import { mmPerUnit } from '../units/length';

/** Steps a maker counts in, mm, fine to coarse. */
const metricSteps = [0.5, 1, 2, 5, 10, 20, 50, 100];
const inchSteps = [1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4].map((part) => part * mmPerUnit.in);

/** A step is worth stopping at only when it is at least this wide on the screen, CSS pixels. */
const narrowestStep = 2;

/** The finest counted step that can still be told apart at this zoom, mm. */
export function wholeStep(unit: LengthUnit, pixelsPerMm: number): number {
  const steps = unit === 'in' ? inchSteps : metricSteps;
  return steps.find((step) => step * pixelsPerMm >= narrowestStep) ?? steps.at(-1)!;
}

/** A value worth stopping at, and the word for it. */
export interface Stop {
  readonly value: number;
  readonly word: string;
}

/**
 * Snaps a number, mm: to a stop within `reach`, otherwise to the nearest whole step. With `free` (Alt held) it stays
 * as it is.
 */
export function snapNumber(
  value: number,
  options: { readonly stops?: readonly Stop[]; readonly step: number; readonly reach: number; readonly free: boolean },
): { readonly value: number; readonly word: string | null } {
  if (options.free) return { value, word: null };
  let best: Stop | null = null;
  for (const stop of options.stops ?? []) {
    const away = Math.abs(stop.value - value);
    if (away <= options.reach && (best === null || away < Math.abs(best.value - value))) best = stop;
  }
  if (best !== null) return { value: best.value, word: best.word };
  return { value: Math.round(value / options.step) * options.step, word: null };
}
