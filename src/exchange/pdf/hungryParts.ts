import { pdfLimits } from './limits';

/**
 * Whether a part of a file makes the library take far more memory than the part itself unpacks to. `dictionary`: what
 * describes it (ISO 32000-1, 7.3.8), names already spelt out.
 */
export function isHungry(dictionary: string): boolean {
  return bothWays(dictionary).some(
    (text) =>
      sampledValues(text) > pdfLimits.samples ||
      rowBytes(text) > pdfLimits.unpackedPicture ||
      largest(text, 'BitsPer\\w+') > mostBits,
  );
}

/** Bits of one colour of a dot or one value; 32 are the most there are (7.10.2). The library counts up to what is written. */
const mostBits = 32;

/** The largest number written behind a key (its pattern); 0 for none. */
function largest(dictionary: string, key: string): number {
  const numbers = [...dictionary.matchAll(new RegExp(`/${key}(?:\\s+|(?=[-+.]))[-+]*([\\d.]+)`, 'g'))];
  return Math.max(0, ...numbers.map(([, number]) => Number(number)));
}

/** Bits of a key; the library works through as many as are written. */
const mostKeyBits = 1_000_000;

/** How far from its name the rest of what describes a lock may stand. */
const lockReach = 1000;

/** Bytes within which its name follows the word that says a name follows. */
const filterReach = 12;

/** Whether what locks the file (7.6.1) asks for a key of impossible length. */
export function asksHugeKey(bytes: Uint8Array): boolean {
  for (let at = placeOf(bytes, lockWord, 0); at >= 0; at = placeOf(bytes, lockWord, at + lockWord.length)) {
    // `/StandardEncoding` is of a font, and `Standard` alone the name of a style in many files.
    if (isLetter(bytes[at + lockWord.length]) || !/\/Filter\s*$/.test(textOf(bytes, at - filterReach, at))) continue;
    const before = textOf(bytes, at - lockReach, at);
    const after = textOf(bytes, at, at + lockReach);
    const begin = Math.max(before.lastIndexOf('obj'), before.lastIndexOf('trailer'), 0);
    const end = /endobj|stream|startxref/.exec(after)?.index ?? after.length;
    // What locks a file holds both passwords (table 21); words on a page that only look like it do not.
    const isHuge = (lock: string) => /\/O\b/.test(lock) && /\/U\b/.test(lock) && largest(lock, 'Length') > mostKeyBits;
    if (bothWays(before.slice(begin) + after.slice(0, end)).some(isHuge)) return true;
  }
  return false;
}

const lockWord = lettersOf('/Standard');

/**
 * Values of a sampled function (7.10.2), which the library lays out whole whatever the part holds. Without end where its
 * numbers stand elsewhere in the file: no program is known that writes it so, and there they are not looked for.
 */
function sampledValues(dictionary: string): number {
  if (!/\/FunctionType\s+(?:[-+]*0+\b|\d+\s+\d+\s+R\b)/.test(dictionary)) return 0;
  if (/\/BitsPerSample\s+\d+\s+\d+\s+R\b/.test(dictionary)) return Number.POSITIVE_INFINITY;
  const [sizes, ranges] = [listsOf(dictionary, 'Size'), listsOf(dictionary, 'Range')];
  if (sizes === null || ranges === null) return Number.POSITIVE_INFINITY;
  const perPlace = Math.max(0, ...ranges.map((range) => range.length / 2));
  return Math.max(0, ...sizes.map((size) => size.reduce((all, one) => all * one, perPlace)));
}

/** Bytes of one row where every row is packed as its difference from the one before (7.4.4.4). */
function rowBytes(dictionary: string): number {
  const one = (key: string, usual: number) => largest(dictionary, key) || usual;
  return /\/Predictor\b/.test(dictionary) ? (one('Columns', 1) * one('Colors', 1) * one('BitsPerComponent', 8)) / 8 : 0;
}

/** The numbers of each list behind a key, signs left out; null where one is no list of plain numbers. */
function listsOf(dictionary: string, key: string): readonly (readonly number[])[] | null {
  const found = [...dictionary.matchAll(new RegExp(`/${key}(?![\\w])\\s*(\\[[^\\]]*\\]?|)`, 'g'))];
  if (!found.every(([, list]) => /^\[[\s\d.+-]*\]$/.test(list!))) return null;
  return found.map(([, list]) => [...list!.matchAll(/[\d.]+/g)].map(([number]) => Number(number)));
}

const meshWord = lettersOf('/ShadingType');

/**
 * Makes colour meshes unknown to the library, in place: it draws them as nothing, as this program does, and does not lay
 * out their corners, which takes a thousand times the memory they are packed in. (Kinds 4 to 7 of ISO 32000-1, table 78.)
 */
export function forgetMeshes(bytes: Uint8Array): void {
  for (let at = placeOf(bytes, meshWord, 0); at >= 0; at = placeOf(bytes, meshWord, at + 1)) {
    let digit = at + meshWord.length;
    while (isSpace(bytes[digit])) digit++;
    if (bytes[digit]! >= 0x34 && bytes[digit]! <= 0x37) bytes[digit] = 0x39;
  }
}

/** With comments as the space they count as (7.2.4), and as it stands: what looks like one may lie in a string. */
function bothWays(text: string): readonly string[] {
  return text.includes('%') ? [text, text.replace(/%[^\r\n]*/g, ' ')] : [text];
}

function isLetter(byte: number | undefined): boolean {
  return byte !== undefined && /\w/.test(String.fromCharCode(byte));
}

function textOf(bytes: Uint8Array, from: number, to: number): string {
  return String.fromCharCode(...bytes.subarray(Math.max(0, from), to));
}

function isSpace(byte: number | undefined): boolean {
  return byte === 32 || byte === 13 || byte === 10 || byte === 9 || byte === 12 || byte === 0;
}

function lettersOf(word: string): readonly number[] {
  return Array.from(word, (letter) => letter.charCodeAt(0));
}

/** Where a word next stands in the bytes; -1 for nowhere. */
function placeOf(bytes: Uint8Array, word: readonly number[], from: number): number {
  for (let at = bytes.indexOf(word[0]!, from); at >= 0; at = bytes.indexOf(word[0]!, at + 1)) {
    if (word.every((letter, i) => bytes[at + i] === letter)) return at;
  }
  return -1;
}
