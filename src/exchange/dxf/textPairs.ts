import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import { dxfLimits } from './limits';
import type { Pairs } from './pairs';
import { refusals } from './refusals';

const newLine = 10;
const carriageReturn = 13;
const space = 32;
const tab = 9;

/**
 * The pairs of a DXF file written as text: a line with the group code, then a line with the value. `endsInside` is true
 * when the last code has no value any more.
 */
export function textPairs(written: string): Outcome<{ readonly pairs: Pairs; readonly endsInside: boolean }> {
  // Files of very old machines end their lines with a carriage return alone.
  const text = written.includes('\n') ? written : written.replaceAll('\r', '\n');
  const codes: number[] = [];
  const starts: number[] = [];
  const ends: number[] = [];
  let at = 0;
  let line = 1;
  while (at < text.length) {
    const codeEnd = endOfLine(text, at);
    const code = readCode(text, at, codeEnd);
    // Blank lines after the last pair say nothing.
    if (code === null && isBlank(text, at)) break;
    if (code === null) return damagedAt(line);
    const valueStart = codeEnd + 1;
    if (valueStart > text.length) return succeed({ pairs: lazyPairs(text, codes, starts, ends), endsInside: true });
    const valueEnd = endOfLine(text, valueStart);
    if (code !== 999) {
      codes.push(code);
      starts.push(valueStart);
      ends.push(valueEnd);
      if (codes.length > dxfLimits.pairs) return refusals.pairs();
    }
    at = valueEnd + 1;
    line += 2;
  }
  return succeed({ pairs: lazyPairs(text, codes, starts, ends), endsInside: false });
}

function endOfLine(text: string, from: number): number {
  const at = text.indexOf('\n', from);
  return at < 0 ? text.length : at;
}

/** A whole number alone on its line, blanks around it allowed; null otherwise. */
function readCode(text: string, from: number, to: number): number | null {
  let start = from;
  let end = to;
  while (start < end && isSpace(text.charCodeAt(start))) start++;
  while (end > start && isSpace(text.charCodeAt(end - 1))) end--;
  const negative = text.charCodeAt(start) === 45;
  if (negative) start++;
  if (end <= start || end - start > 4) return null;
  let value = 0;
  for (let i = start; i < end; i++) {
    const digit = text.charCodeAt(i) - 48;
    if (!(digit >= 0 && digit <= 9)) return null;
    value = 10 * value + digit;
  }
  return negative ? -value : value;
}

function isSpace(code: number): boolean {
  return code === space || code === tab || code === carriageReturn;
}

function isBlank(text: string, from: number): boolean {
  for (let i = from; i < text.length; i++) {
    const code = text.charCodeAt(i);
    // Some programs end the file with the end mark of the oldest systems.
    if (!isSpace(code) && code !== newLine && code !== 26 && code !== 0) return false;
  }
  return true;
}

function damagedAt(line: number): Failure {
  return fail(
    'dxf-damaged',
    `This file is damaged at line ${line}: a number that says what follows was expected there. Save it again in the program that made it.`,
  );
}

function lazyPairs(text: string, codes: readonly number[], starts: readonly number[], ends: readonly number[]): Pairs {
  const value = (index: number) => text.slice(starts[index]!, ends[index]!).trim();
  return {
    count: codes.length,
    code: (index) => codes[index]!,
    text: value,
    number: (index) => {
      if (ends[index]! - starts[index]! > dxfLimits.number) return Number.NaN;
      return readNumber(value(index));
    },
  };
}

/** Stricter than `Number`: no empty words, no hexadecimal, no Infinity. */
export function readNumber(words: string): number {
  return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(words) ? Number(words) : Number.NaN;
}
