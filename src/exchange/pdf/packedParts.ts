import { asksHugeKey, isHungry } from './hungryParts';
import { inflate } from './inflate';
import { unpackAscii85, unpackHex } from './letterPackings';
import { pdfLimits } from './limits';
import { unpackLzw, unpackRuns } from './otherPackings';
import { UnpackedBytes } from './unpackedBytes';

/** How far before the word `stream` the dictionary that describes it may begin. */
const dictionaryReach = 2000;

/**
 * Whether the packed parts of a file unpack to more than is read, one of them or all together. The library unpacks a part
 * whole before it looks at it, so a few hundred bytes could fill the memory; here they are counted without being kept.
 * Parts locked by a password cannot be counted.
 */
export function unpacksTooLarge(bytes: Uint8Array): boolean {
  if (asksHugeKey(bytes)) return true;
  let all = 0;
  let looked = 0;
  for (let at = nextStream(bytes, 0); at >= 0; at = nextStream(bytes, at)) {
    const begin = dictionaryBegin(bytes, at);
    looked += at - begin;
    // What describes one part is no part of another: only words without end that begin none come to more than the file.
    if (looked > 2 * bytes.length + dictionaryReach) return true;
    const dictionary = spelledOut(bytes.subarray(begin, at));
    if (isHungry(dictionary)) return true;
    const isPicture = /\/Subtype\s*\/Image\b/.test(dictionary);
    const most = isPicture ? pdfLimits.unpackedPicture : pdfLimits.unpackedPart;
    const size = unpackedSize(bytes, afterLineEnd(bytes, at), dictionary, most);
    if (size > most) return true;
    if (!isPicture) all += size;
    if (all > pdfLimits.unpacked) return true;
  }
  return false;
}

/** Index just behind the next word `stream` that begins one; -1 for none. */
function nextStream(bytes: Uint8Array, from: number): number {
  for (let i = bytes.indexOf(word[0]!, from); i >= 0; i = bytes.indexOf(word[0]!, i + 1)) {
    // `endstream` ends one.
    if (word.every((letter, k) => bytes[i + k] === letter) && bytes[i - 1] !== 0x64) return i + word.length;
  }
  return -1;
}

const word = Array.from('stream', (letter) => letter.charCodeAt(0));

function afterLineEnd(bytes: Uint8Array, at: number): number {
  const line = bytes[at] === 13 ? at + 1 : at;
  return bytes[line] === 10 ? line + 1 : line;
}

/** Where the object begins that a word `stream` belongs to: at the nearest `obj` before it within reach. */
function dictionaryBegin(bytes: Uint8Array, at: number): number {
  const first = Math.max(0, at - dictionaryReach);
  for (let i = at - 3; i > first; i--) {
    if (bytes[i] !== 0x6f || bytes[i + 1] !== 0x62 || bytes[i + 2] !== 0x6a) continue;
    // ` obj` begins one, `endobj` ends the one before.
    if (bytes[i - 1] === 0x20 || bytes[i - 1] === 0x64) return i;
  }
  return first;
}

/** Text of bytes, names written with numbers (7.3.5) spelt out. */
function spelledOut(bytes: Uint8Array): string {
  const text = String.fromCharCode(...bytes);
  return text.replace(/#([0-9a-f]{2})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

function unpackedSize(bytes: Uint8Array, from: number, dictionary: string, most: number): number {
  const early = !/\/EarlyChange\s+0/.test(dictionary);
  return Math.max(0, ...packingsOf(dictionary).map((names) => unpackedBy(names, bytes, from, most, early)));
}

/** What a part may be packed with where its dictionary does not say it in so many words. */
const guesses: readonly (readonly string[])[] = ['FlateDecode', 'LZWDecode', 'RunLengthDecode'].flatMap((name) => [
  [name],
  ['ASCII85Decode', name],
  ['ASCIIHexDecode', name],
]);

/** The packings a part says, the outermost first; several where it says it twice or elsewhere. */
function packingsOf(dictionary: string): readonly (readonly string[])[] {
  if (!dictionary.includes('obj')) return guesses;
  return [...dictionary.matchAll(/\/Filter(?![\w])\s*(\[[^\]]*\]?|\/\w+|)/g)].flatMap(([, written]) => {
    const names = [...written!.matchAll(/\/(\w+)/g)].map(([, name]) => name!);
    const isPlain = names.length > 0 && /^\[?(?:\s*\/\w+)+\s*\]?$/.test(written!);
    return isPlain ? [names] : guesses;
  });
}

function unpackedBy(names: readonly string[], bytes: Uint8Array, from: number, most: number, early: boolean): number {
  let packed = bytes;
  let start = from;
  let largest = 0;
  for (const [i, name] of names.entries()) {
    const unpack = packings.get(name);
    if (unpack === undefined) break;
    const into = new UnpackedBytes(most, i + 1 < names.length);
    unpack(packed, start, into, early);
    largest = Math.max(largest, into.size);
    if (into.isFull) break;
    packed = into.data.subarray(0, into.size);
    start = 0;
  }
  return largest;
}

type Unpack = (bytes: Uint8Array, from: number, into: UnpackedBytes, early: boolean) => void;

/** By the names of ISO 32000-1, table 6, and the short ones of table 94. */
const packings: ReadonlyMap<string, Unpack> = new Map<string, Unpack>([
  ['FlateDecode', inflate],
  ['Fl', inflate],
  ['LZWDecode', unpackLzw],
  ['LZW', unpackLzw],
  ['RunLengthDecode', unpackRuns],
  ['RL', unpackRuns],
  ['ASCII85Decode', unpackAscii85],
  ['A85', unpackAscii85],
  ['ASCIIHexDecode', unpackHex],
  ['AHx', unpackHex],
]);
