import { fail, type Outcome, succeed } from '../geometry/outcome';

/** Vulgar fraction characters and what they say. */
const fractionCharacters: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
  '⅐': '1/7',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅑': '1/9',
  '⅒': '1/10',
};
const raisedDigits = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const loweredDigits = '₀₁₂₃₄₅₆₇₈₉';

/**
 * Brings the many ways to type a number to one: typographic fractions become ` 3/8` (with a space before, so that
 * `1⅜` never turns into 13/8), every dash becomes `-`, every space a plain one.
 */
export function plainNumberText(text: string): string {
  return text
    .replace(/[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]/gu, (character) => ` ${fractionCharacters[character]}`)
    .replace(
      /([⁰¹²³⁴⁵⁶⁷⁸⁹]+)\s*[⁄/∕]\s*([₀₁₂₃₄₅₆₇₈₉]+)/gu,
      (_, above: string, below: string) => ` ${plainDigits(above, raisedDigits)}/${plainDigits(below, loweredDigits)}`,
    )
    .replace(/[⁄∕]/gu, '/')
    .replace(/[‐‑‒–—−]/gu, '-')
    .replace(/\s+/gu, ' ')
    .trim();
}

function plainDigits(text: string, digits: string): string {
  return [...text].map((character) => digits.indexOf(character)).join('');
}

/**
 * Reads one number without sign: `4`, `1.375`, `1,375` (a comma is a decimal comma), `.5`, `3/8`, `1 3/8`, `1-3/8`.
 * Expects the output of `plainNumberText`. A fraction that can be read two ways, such as 11/2, is refused.
 */
export function parseNumber(text: string): Outcome<number> {
  const decimal = /^(\d+(?:[.,]\d*)?|[.,]\d+)$/.exec(text);
  if (decimal) return succeed(Number(text.replace(',', '.')));
  const fraction = /^(?:(\d+) ?[ -] ?)?(\d+) ?\/ ?(\d+)$/.exec(text);
  if (!fraction) return fail('number-unreadable', `“${text}” is not a number I can read. Type it like 1 1/2 or 1.5.`);
  const [, whole, above = '', below = ''] = fraction;
  const numerator = Number(above);
  const denominator = Number(below);
  if (denominator === 0) return fail('number-over-zero', `${above}/${below} divides by nothing. Check the fraction.`);
  if (whole !== undefined) {
    if (/ - | -|- /.test(text.slice(0, text.indexOf('/')))) {
      return fail(
        'number-two-ways',
        `“${text}” can be read two ways. Type ${whole} ${above}/${below} for one measure.`,
      );
    }
    if (numerator >= denominator) {
      return fail(
        'number-fraction-too-big',
        `After a whole number the fraction must be less than one; ${above}/${below} is not.`,
      );
    }
    return succeed(Number(whole) + numerator / denominator);
  }
  const split = runTogether(above, denominator);
  if (split !== null) {
    const meant = `${split.whole} ${split.rest}/${below}`;
    return fail(
      'number-two-ways',
      `${above}/${below} can be read two ways. If you mean ${meant}, leave a space before the fraction.`,
    );
  }
  return succeed(numerator / denominator);
}

/** Whether digits such as `11` in 11/2 may be a whole number and a fraction typed without the space. */
function runTogether(above: string, denominator: number): { whole: string; rest: string } | null {
  for (let cut = 1; cut < above.length; cut += 1) {
    const rest = above.slice(cut);
    if (Number(above) >= denominator && !rest.startsWith('0') && Number(rest) < denominator) {
      return { whole: above.slice(0, cut), rest };
    }
  }
  return null;
}
