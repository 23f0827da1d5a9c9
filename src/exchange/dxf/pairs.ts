/**
 * A DXF file as the flat list it is: pairs of a group code, which says what follows, and a value. Values are made only
 * when asked for, because most pairs of a large file are never looked at.
 */
export interface Pairs {
  readonly count: number;
  code(index: number): number;
  /** The value as words, without blanks at its ends. */
  text(index: number): string;
  /** The value as a number; NaN when it is none. */
  number(index: number): number;
}

/** A stretch of pairs: one entity, one block's head, one row of a table. `from` holds its type (code 0). */
export interface Entry {
  readonly pairs: Pairs;
  readonly type: string;
  readonly from: number;
  readonly to: number;
}

/** The first number with a code inside an entry, or `otherwise` where there is none. NaN when it is written but no number. */
export function numberIn(entry: Entry, code: number, otherwise: number): number {
  const at = find(entry, code);
  return at < 0 ? otherwise : entry.pairs.number(at);
}

/** The first words with a code inside an entry; null when there are none. */
export function textIn(entry: Entry, code: number): string | null {
  const at = find(entry, code);
  return at < 0 ? null : entry.pairs.text(at);
}

/** Whether a bit is set in a whole number such as code 70. */
export function hasFlag(entry: Entry, code: number, bit: number): boolean {
  const value = numberIn(entry, code, 0);
  return Number.isSafeInteger(value) && (value & bit) !== 0;
}

/** Programs hang data of their own (code 1001 on) behind an entity; nothing there is the entity's. */
const extended = 1000;

/** Calls `visit` for every pair of an entry in order, leaving out other programs' own data. */
export function eachPair(entry: Entry, visit: (code: number, index: number) => void): void {
  for (let i = entry.from + 1; i < entry.to; i++) {
    const code = entry.pairs.code(i);
    if (code >= extended) return;
    visit(code, i);
  }
}

function find(entry: Entry, code: number): number {
  for (let i = entry.from + 1; i < entry.to; i++) {
    const here = entry.pairs.code(i);
    if (here >= extended) return -1;
    if (here === code) return i;
  }
  return -1;
}
