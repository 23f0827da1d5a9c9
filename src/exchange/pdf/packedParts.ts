import { inflate } from './inflate';
import { pdfLimits } from './limits';
import { unpackLzw, unpackRuns } from './otherPackings';
import { UnpackedBytes } from './unpackedBytes';

/** How far before the word `stream` the dictionary that describes it may begin. */
const dictionaryReach = 2000;

/**
 * Whether the packed parts of a file unpack to more than is read, one of them or all together. The library unpacks a part
 * whole before it looks at it, so a few hundred bytes could fill the memory; here they are counted without being kept.
 * Parts locked by a password, and those packed as letters (ASCII85, ASCIIHex) first, cannot be counted.
 */
export function unpacksTooLarge(bytes: Uint8Array): boolean {
  let all = 0;
  for (let at = nextStream(bytes, 0); at >= 0; at = nextStream(bytes, at)) {
    const dictionary = dictionaryBefore(bytes, at);
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

function dictionaryBefore(bytes: Uint8Array, at: number): string {
  let text = '';
  for (const byte of bytes.subarray(Math.max(0, at - dictionaryReach), at)) text += String.fromCharCode(byte);
  const own = text.slice(Math.max(text.lastIndexOf('endobj'), text.lastIndexOf(' obj') + 1, 0));
  return own.replace(/#([0-9a-f]{2})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

function unpackedSize(bytes: Uint8Array, from: number, dictionary: string, most: number): number {
  const written = /\/(?:Filter|F)\s*(\[[^\]]*\]|\/\w+)/.exec(dictionary)?.[1] ?? '/FlateDecode';
  const names = [...written.matchAll(/\/(\w+)/g)].map(([, name]) => name!);
  let packed = bytes;
  let start = from;
  let largest = 0;
  for (const [i, name] of names.entries()) {
    const into = new UnpackedBytes(most, i + 1 < names.length);
    if (name === 'FlateDecode' || name === 'Fl') inflate(packed, start, into);
    else if (name === 'LZWDecode' || name === 'LZW')
      unpackLzw(packed, start, into, !/\/EarlyChange\s+0/.test(dictionary));
    else if (name === 'RunLengthDecode' || name === 'RL') unpackRuns(packed, start, into);
    else break;
    largest = Math.max(largest, into.size);
    if (into.isFull) break;
    packed = into.data.subarray(0, into.size);
    start = 0;
  }
  return largest;
}
