import { fail, type Outcome, succeed } from '../geometry/outcome';
import { parseNumber, plainNumberText } from './numberText';

/** How lengths are shown; inside everything is mm. */
export type LengthUnit = 'cm' | 'mm' | 'in';

/** Millimetres in one of each unit; the inch is 25.4 mm by definition (international yard and pound agreement, 1959). */
export const mmPerUnit: Readonly<Record<LengthUnit | 'ft', number>> = { mm: 1, cm: 10, in: 25.4, ft: 304.8 };

/** Longer than any pattern or fabric bolt a maker types here, mm. */
const longestLength = 100_000;

/** Parts of an inch that a rounded inch measure is shown in. */
export type InchParts = 8 | 16 | 32;

export interface LengthFormat {
  /** Inches are rounded to this fraction; 16 by default. */
  readonly inchParts?: InchParts;
  /** Decimals of cm and mm, always all shown; by default one or two for cm, one for mm. */
  readonly decimals?: number;
  /** Leave the unit out, for a column that names it once. */
  readonly bare?: boolean;
}

const unitWords: readonly (readonly [RegExp, LengthUnit | 'ft'])[] = [
  [/^(?:mm|millimet(?:er|re)s?)\.?$/i, 'mm'],
  [/^(?:cm|centimet(?:er|re)s?)\.?$/i, 'cm'],
  [/^(?:in|ins|inch|inches)\.?$|^(?:"|″|”|“|''|′′)$/i, 'in'],
  [/^(?:ft|foot|feet)\.?$|^(?:'|′|’)$/i, 'ft'],
];

interface Term {
  readonly value: number;
  readonly unit: LengthUnit | 'ft' | null;
}

/**
 * Reads a typed length and gives mm. A unit written in the text wins; without one the text is in `unit`.
 * Takes fractions (`1 3/8`, `1-3/8`, `1⅜`), decimals with point or comma, feet and inches (`1 ft 3 in`), a leading
 * minus, and sums (`1 1/2 + 1/4`). Anything that cannot be read, or can be read two ways, is refused with a sentence.
 */
export function parseLength(text: string, unit: LengthUnit): Outcome<number> {
  const plain = plainNumberText(text);
  const quoted = quote(text);
  if (plain === '') return fail('length-empty', 'Type a length, for example 1 1/2 in or 4 cm.');
  const sign = /^[-+]/.exec(plain)?.[0];
  const summands = (sign === undefined ? plain : plain.slice(1)).split('+');
  const terms: Term[] = [];
  for (const summand of summands) {
    const read = readTerms(summand.trim(), quoted);
    if (!read.ok) return read;
    terms.push(...read.value);
  }
  if (sign === '-' && terms.length > 1 && summands.length > 1) {
    return fail('length-two-ways', `${quoted} can be read two ways. Type the sum as one length.`);
  }
  const named = new Set(terms.map((term) => term.unit).filter((named) => named !== null));
  const unnamed = terms.some((term) => term.unit === null);
  if (unnamed && named.size > 1) {
    return fail('length-unit-missing', `${quoted} mixes units. Write the unit after every number.`);
  }
  const fallback = named.size === 1 ? [...named][0]! : unit;
  const total = terms.reduce((sum, term) => sum + term.value * mmPerUnit[term.unit ?? fallback], 0);
  if (!(total <= longestLength))
    return fail('length-too-long', `${quoted} is longer than 100 metres. Check the number.`);
  return succeed(sign === '-' && total !== 0 ? -total : total);
}

/** The typed text in quotation marks, shortened so that a sentence stays a sentence. */
function quote(text: string): string {
  const trimmed = text.trim();
  return trimmed.length > 24 ? `“${trimmed.slice(0, 23)}…”` : `“${trimmed}”`;
}

/** Reads `1 1/2 in`, or several with falling units such as `1 ft 3 in`. */
function readTerms(text: string, quoted: string): Outcome<Term[]> {
  const unreadable = fail(
    'length-unreadable',
    `${quoted} is not a length I can read. Type it like 1 1/2 in, 4 cm or 35 mm.`,
  );
  const terms: Term[] = [];
  const pattern = /([\d.,/ -]*\d[\d.,/ -]*)([^\d.,/+-]*)/gy;
  let read = 0;
  for (let match = pattern.exec(text); match !== null; match = pattern.exec(text)) {
    read = pattern.lastIndex;
    const number = parseNumber(match[1]!.trim());
    if (!number.ok) return number.code === 'number-unreadable' ? unreadable : number;
    const word = match[2]!.trim();
    const unit = word === '' ? null : (unitWords.find(([form]) => form.test(word))?.[1] ?? 'unknown');
    if (unit === 'unknown') {
      return fail('length-unit-unknown', `I do not know the unit ${quote(word)}. Use mm, cm, in or ft.`);
    }
    const last = terms.at(-1);
    if (last && (last.unit === null || unit === null || mmPerUnit[unit] >= mmPerUnit[last.unit])) return unreadable;
    terms.push({ value: number.value, unit });
  }
  return terms.length > 0 && read === text.length ? succeed(terms) : unreadable;
}

/**
 * Writes a length of `mm` in the maker's unit: `1 1/2 in` to the nearest 1/16 with the fraction reduced, `4.25 cm`,
 * `35.0 mm`. `parseLength` reads every text this writes, to within half a step of what was written.
 */
export function formatLength(mm: number, unit: LengthUnit, format: LengthFormat = {}): string {
  const text =
    unit === 'in' ? inchText(mm, format.inchParts ?? 16) : decimalText(mm / mmPerUnit[unit], unit, format.decimals);
  return format.bare ? text : `${text} ${unit}`;
}

function inchText(mm: number, parts: InchParts): string {
  const steps = Math.round((Math.abs(mm) / mmPerUnit.in) * parts);
  const whole = Math.floor(steps / parts);
  let above = steps % parts;
  let below: number = parts;
  while (above !== 0 && above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  const sign = mm < 0 && steps > 0 ? '-' : '';
  if (above === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${above}/${below}` : `${sign}${whole} ${above}/${below}`;
}

function decimalText(value: number, unit: 'cm' | 'mm', decimals: number | undefined): string {
  const fixed = value.toFixed(decimals ?? (unit === 'cm' ? 2 : 1));
  const trimmed = decimals === undefined && unit === 'cm' ? fixed.replace(/0$/, '') : fixed;
  return /^-[0.]*$/.test(trimmed) ? trimmed.slice(1) : trimmed;
}
