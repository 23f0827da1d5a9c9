import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { dxfLimits } from './limits';
import type { Pairs } from './pairs';
import { refusals } from './refusals';
import { readNumber } from './textPairs';

/** The 22 bytes a binary DXF file begins with (status: from memory of the published DXF reference). */
const sentinel = 'AutoCAD Binary DXF\r\n\u001a\u0000';

export function isBinary(bytes: Uint8Array): boolean {
  for (let i = 0; i < sentinel.length; i++) if (bytes[i] !== sentinel.charCodeAt(i)) return false;
  return true;
}

type Kind = 'words' | 'double' | 'int16' | 'int32' | 'int64' | 'byte' | 'chunk';

/** First and last code of each kind of value (status: from memory of the published DXF reference). */
const kinds: readonly (readonly [number, number, Kind])[] = [
  [0, 9, 'words'],
  [10, 59, 'double'],
  [60, 79, 'int16'],
  [90, 99, 'int32'],
  [100, 109, 'words'],
  [110, 149, 'double'],
  [160, 169, 'int64'],
  [170, 179, 'int16'],
  [210, 239, 'double'],
  [270, 289, 'int16'],
  [290, 299, 'byte'],
  [300, 309, 'words'],
  [310, 319, 'chunk'],
  [320, 369, 'words'],
  [370, 389, 'int16'],
  [390, 399, 'words'],
  [400, 409, 'int16'],
  [410, 419, 'words'],
  [420, 429, 'int32'],
  [430, 439, 'words'],
  [440, 459, 'int32'],
  [460, 469, 'double'],
  [470, 481, 'words'],
  [999, 1003, 'words'],
  [1004, 1004, 'chunk'],
  [1005, 1009, 'words'],
  [1010, 1059, 'double'],
  [1060, 1070, 'int16'],
  [1071, 1071, 'int32'],
];

function kindOf(code: number): Kind | null {
  for (const [first, last, kind] of kinds) if (code >= first && code <= last) return kind;
  return null;
}

/** The pairs of a binary DXF file. Words are turned into text by `decode`. */
export function binaryPairs(
  bytes: Uint8Array,
  decode: (words: Uint8Array) => string,
): Outcome<{ readonly pairs: Pairs; readonly endsInside: boolean }> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  // Up to release 12 a code takes one byte, and the first one, 0, is followed by "SECTION"; later it takes two.
  const wide = bytes[sentinel.length + 1] === 0;
  const codes: number[] = [];
  const values: (string | number)[] = [];
  let at = sentinel.length;
  const done = (endsInside: boolean) => succeed({ pairs: keptPairs(codes, values), endsInside });
  while (at < bytes.length) {
    let code = bytes[at]!;
    at += 1;
    if (wide || code === 255) {
      const from = wide ? at - 1 : at;
      if (from + 2 > bytes.length) return done(true);
      code = view.getInt16(from, true);
      at = from + 2;
    }
    const kind = kindOf(code);
    if (kind === null) {
      return fail(
        'dxf-damaged',
        `This file is damaged after ${at} bytes: what follows there is of no known kind. Save it again in the program that made it, best as text.`,
      );
    }
    const read = readValue(view, bytes, at, kind, decode);
    if (read === null) return done(true);
    codes.push(code);
    values.push(read.value);
    if (codes.length > dxfLimits.pairs) return refusals.pairs();
    at = read.next;
    if (code === 0 && read.value === 'EOF') break;
  }
  return done(false);
}

function readValue(
  view: DataView,
  bytes: Uint8Array,
  at: number,
  kind: Kind,
  decode: (words: Uint8Array) => string,
): { readonly value: string | number; readonly next: number } | null {
  if (kind === 'words') {
    const end = bytes.indexOf(0, at);
    return end < 0 ? null : { value: decode(bytes.subarray(at, end)).trim(), next: end + 1 };
  }
  const size = { double: 8, int16: 2, int32: 4, int64: 8, byte: 1, chunk: 1 }[kind];
  if (at + size > bytes.length) return null;
  switch (kind) {
    case 'double':
      return { value: view.getFloat64(at, true), next: at + size };
    case 'int16':
      return { value: view.getInt16(at, true), next: at + size };
    case 'int32':
      return { value: view.getInt32(at, true), next: at + size };
    case 'int64':
      return { value: Number(view.getBigInt64(at, true)), next: at + size };
    case 'byte':
      return { value: bytes[at]!, next: at + size };
    case 'chunk': {
      const next = at + 1 + bytes[at]!;
      return next > bytes.length ? null : { value: '', next };
    }
  }
}

function keptPairs(codes: readonly number[], values: readonly (string | number)[]): Pairs {
  return {
    count: codes.length,
    code: (index) => codes[index]!,
    text: (index) => String(values[index]!),
    number: (index) => {
      const value = values[index]!;
      if (typeof value === 'string') return readNumber(value.slice(0, dxfLimits.number));
      return Number.isFinite(value) ? value : Number.NaN;
    },
  };
}
