import { pdfLimits } from './limits';

/**
 * Whether a part of a file makes the library take far more memory than the part itself unpacks to. `dictionary`: what
 * describes it (ISO 32000-1, 7.3.8), names already spelt out.
 */
export function isHungry(dictionary: string): boolean {
  return (
    sampledValues(dictionary) > pdfLimits.samples ||
    rowBytes(dictionary) > pdfLimits.unpackedPicture ||
    largest(dictionary, 'BitsPer\\w+') > mostBits
  );
}

/** Bits of one colour of a dot or one value; 32 are the most there are (7.10.2). The library counts up to what is written. */
const mostBits = 32;

/** The largest number written behind a key (its pattern); 0 for none. */
function largest(dictionary: string, key: string): number {
  const numbers = [...dictionary.matchAll(new RegExp(`/${key}\\s+([\\d.]+)`, 'g'))];
  return Math.max(0, ...numbers.map(([, number]) => Number(number)));
}

/** Bits of a key; the library works through as many as are written. */
const mostKeyBits = 1_000_000;

/** How far from its name the rest of what describes a lock may stand. */
const lockReach = 1000;

/** Whether what locks the file (7.6.1) asks for a key of impossible length. */
export function asksHugeKey(bytes: Uint8Array): boolean {
  for (let at = placeOf(bytes, lockWord, 0); at >= 0; at = placeOf(bytes, lockWord, at + 1)) {
    let text = '';
    for (const byte of bytes.subarray(Math.max(0, at - lockReach), at + lockReach)) text += String.fromCharCode(byte);
    if (largest(text, 'Length') > mostKeyBits) return true;
  }
  return false;
}

const lockWord = lettersOf('/Standard');

/** Values of a sampled function (7.10.2), which the library lays out whole whatever the part holds. */
function sampledValues(dictionary: string): number {
  if (!/\/FunctionType\s+0\b/.test(dictionary)) return 0;
  const perPlace = numbersOf(dictionary, 'Range').length / 2;
  return numbersOf(dictionary, 'Size').reduce((all, size) => all * size, perPlace);
}

/** Bytes of one row where every row is packed as its difference from the one before (7.4.4.4). */
function rowBytes(dictionary: string): number {
  const one = (key: string, usual: number) => largest(dictionary, key) || usual;
  return /\/Predictor\b/.test(dictionary) ? (one('Columns', 1) * one('Colors', 1) * one('BitsPerComponent', 8)) / 8 : 0;
}

function numbersOf(dictionary: string, key: string): readonly number[] {
  const list = new RegExp(`/${key}\\s*\\[([^\\]]*)\\]`).exec(dictionary)?.[1] ?? '';
  return [...list.matchAll(/[\d.]+/g)].map(([number]) => Number(number));
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
