import type { LengthUnit } from '../pattern/garment';
import { mmPerUnit } from '../units/length';

/** A stroke of a ruler. Level 0 is numbered and longest, 4 the shortest. */
export interface Tick {
  /** mm on the table. */
  readonly at: number;
  readonly level: 0 | 1 | 2 | 3 | 4;
  readonly label: string | null;
}

/** A way of dividing a ruler, mm: numbered strokes, and finer ones down to `steps[last]`. */
interface Division {
  readonly numbered: number;
  readonly steps: readonly number[];
}

/** Numbers stand at least this far apart, CSS pixels; strokes at least that far. */
const numberRoom = 50;
const strokeRoom = 5;

const metric: readonly Division[] = [
  { numbered: 1, steps: [0.5, 0.1] },
  { numbered: 5, steps: [1, 0.5] },
  { numbered: 10, steps: [5, 1] },
  { numbered: 20, steps: [10, 5, 1] },
  { numbered: 50, steps: [10, 5, 1] },
  { numbered: 100, steps: [50, 10, 5] },
  { numbered: 200, steps: [100, 50, 10] },
  { numbered: 500, steps: [100, 50, 10] },
  { numbered: 1000, steps: [500, 100, 50] },
  { numbered: 2000, steps: [1000, 500, 100] },
];

const inch: readonly Division[] = (
  [
    { numbered: 1 / 4, steps: [1 / 8, 1 / 16, 1 / 32] },
    { numbered: 1 / 2, steps: [1 / 4, 1 / 8, 1 / 16] },
    { numbered: 1, steps: [1 / 2, 1 / 4, 1 / 8, 1 / 16] },
    { numbered: 2, steps: [1, 1 / 2, 1 / 4] },
    { numbered: 3, steps: [1, 1 / 2, 1 / 4] },
    { numbered: 6, steps: [1, 1 / 2] },
    { numbered: 12, steps: [6, 1] },
    { numbered: 24, steps: [12, 6, 1] },
    { numbered: 36, steps: [12, 6] },
    { numbered: 72, steps: [36, 12] },
  ] as const
).map(({ numbered, steps }) => ({
  numbered: numbered * mmPerUnit.in,
  steps: steps.map((step) => step * mmPerUnit.in),
}));

/** Distance between numbered strokes at a zoom, mm; the sheet's grid follows it. */
export function numberedStep(unit: LengthUnit, pixelsPerMm: number): number {
  return divisionFor(unit, pixelsPerMm).numbered;
}

/**
 * The strokes of a true-scale ruler between two places, mm, in the maker's unit: centimetres and millimetres by tens,
 * inches by halves, quarters, eighths and sixteenths, as fine as the zoom leaves room for.
 */
export function rulerTicks(unit: LengthUnit, pixelsPerMm: number, from: number, to: number): Tick[] {
  const { numbered, steps } = divisionFor(unit, pixelsPerMm);
  const drawn = [numbered, ...steps].filter((step) => step * pixelsPerMm >= strokeRoom).slice(0, 5);
  const finest = drawn.at(-1)!;
  const ticks: Tick[] = [];
  const last = Math.floor(to / finest + 1e-9);
  for (let index = Math.ceil(from / finest - 1e-9); index <= last; index++) {
    // Adding 0 turns -0 into 0.
    const at = index * finest + 0;
    const level = drawn.findIndex((step) => isMultiple(at, step)) as Tick['level'];
    ticks.push({ at, level, label: level === 0 ? numberText(at, unit) : null });
  }
  return ticks;
}

function divisionFor(unit: LengthUnit, pixelsPerMm: number): Division {
  const divisions = unit === 'in' ? inch : metric;
  return divisions.find((division) => division.numbered * pixelsPerMm >= numberRoom) ?? divisions.at(-1)!;
}

function isMultiple(at: number, step: number): boolean {
  const times = at / step;
  return Math.abs(times - Math.round(times)) < 1e-6;
}

/** The number on the ruler: whole units, with a fraction of an inch or a decimal where the strokes are finer. */
function numberText(mm: number, unit: LengthUnit): string {
  const value = mm / mmPerUnit[unit];
  if (unit !== 'in') return String(Number(value.toFixed(2)) + 0);
  const quarters = Math.round(value * 4);
  const whole = Math.trunc(quarters / 4);
  const part = ['', '¼', '½', '¾'][Math.abs(quarters % 4)]!;
  if (part === '') return String(whole);
  const sign = quarters < 0 ? '-' : '';
  return whole === 0 ? `${sign}${part}` : `${whole}${part}`;
}
