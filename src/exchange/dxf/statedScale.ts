import type { DrawingScale, ScaleSuggestion } from '../drawing/drawingReading';

const inchMm = 25.4;

/** Units of `$INSUNITS` that a piece may be drawn in (status: from memory of the DXF reference), each in mm. */
const units: ReadonlyMap<number, { readonly one: string; readonly name: string; readonly mm: number }> = new Map([
  [1, { one: 'inch', name: 'inches', mm: inchMm }],
  [2, { one: 'foot', name: 'feet', mm: 304.8 }],
  [4, { one: 'mm', name: 'millimetres', mm: 1 }],
  [5, { one: 'cm', name: 'centimetres', mm: 10 }],
  [6, { one: 'm', name: 'metres', mm: 1000 }],
  [9, { one: 'thousandth of an inch', name: 'thousandths of an inch', mm: 0.0254 }],
  [10, { one: 'yard', name: 'yards', mm: 914.4 }],
  [13, { one: 'thousandth of a mm', name: 'thousandths of a millimetre', mm: 0.001 }],
  [14, { one: 'dm', name: 'decimetres', mm: 100 }],
]);

const inchUnits: ReadonlySet<number> = new Set([1, 2, 9, 10]);

const usual: readonly ScaleSuggestion[] = [
  { label: '1 unit is 1 mm', mmPerUnit: 1 },
  { label: '1 unit is 1 cm', mmPerUnit: 10 },
  { label: '1 unit is 1 inch', mmPerUnit: inchMm },
];

/** What a file says about its unit, from its head and, in files of pattern programs, from a note such as "UNITS: METRIC". */
export interface UnitsSaid {
  readonly units: number | null;
  readonly measurement: number | null;
  readonly note: 'metric' | 'english' | null;
}

/**
 * Certain only where the file names its unit and does not call itself the other system elsewhere. A note that it is metric
 * or not, alone, does not say which unit, so it only puts the likely suggestion first.
 */
export function statedScale({ units: code, measurement, note }: UnitsSaid): DrawingScale {
  const unit = code === null ? undefined : units.get(code);
  const system = note ?? (measurement === 0 ? 'english' : measurement === 1 ? 'metric' : null);
  if (!unit || code === null) return ask(whyUnknown(code), system, note !== null);
  const own = inchUnits.has(code) ? 'english' : 'metric';
  if (system !== null && system !== own) {
    const other = system === 'metric' ? 'metric' : 'in inches';
    return {
      kind: 'ask',
      sentence: `The file states its unit as ${unit.name}, but calls itself ${other} in another place. Give one length you know.`,
      suggestions: [asStated(unit), ...otherUnits(unit.mm)],
    };
  }
  return {
    kind: 'certain',
    mmPerUnit: unit.mm,
    source: `The file states its unit as ${unit.name}: ${unit.mm} mm to the unit. Some programs fill this in without asking, so check one length.`,
  };
}

function asStated({ one, mm }: { readonly one: string; readonly mm: number }): ScaleSuggestion {
  return { label: `as stated: 1 unit is 1 ${one}`, mmPerUnit: mm };
}

/** The usual units but the one of this size, mm. */
export function otherUnits(mmPerUnit: number): readonly ScaleSuggestion[] {
  return usual.filter((suggestion) => suggestion.mmPerUnit !== mmPerUnit);
}

function whyUnknown(code: number | null): string {
  return code === null || code === 0 || !Number.isInteger(code)
    ? 'The file does not say in which unit it is drawn.'
    : 'The file states a unit in which no piece is drawn.';
}

function ask(reason: string, system: UnitsSaid['note'], noted: boolean): DrawingScale {
  const likely = (suggestion: ScaleSuggestion) => (suggestion.mmPerUnit === inchMm) === (system === 'english');
  const first = system === null ? [] : usual.filter(likely);
  const rest = usual.filter((suggestion) => !first.includes(suggestion));
  const hint =
    system === null
      ? ''
      : ` ${noted ? 'A note in it' : 'Its head'} suggests ${system === 'metric' ? 'metric units' : 'inches'}.`;
  return { kind: 'ask', sentence: `${reason}${hint} Give one length you know.`, suggestions: [...first, ...rest] };
}
