import type { UnpackedBytes } from './unpackedBytes';

/** Unpacks ASCIIHexDecode (ISO 32000-1, 7.4.2) from `from` on, until `>`, or `into` is full. What is no digit is passed over. */
export function unpackHex(bytes: Uint8Array, from: number, into: UnpackedBytes): void {
  let high = -1;
  for (let i = from; i < bytes.length && !into.isFull && bytes[i] !== 0x3e; i++) {
    const digit = hexDigit(bytes[i]!);
    if (digit < 0) continue;
    if (high < 0) high = digit;
    else {
      into.put(16 * high + digit);
      high = -1;
    }
  }
  if (high >= 0) into.put(16 * high);
}

function hexDigit(byte: number): number {
  if (byte >= 0x30 && byte <= 0x39) return byte - 0x30;
  const letter = byte | 0x20;
  return letter >= 0x61 && letter <= 0x66 ? letter - 0x61 + 10 : -1;
}

/** Unpacks ASCII85Decode (7.4.3) from `from` on, until `~`, or `into` is full. What is none of its letters is passed over. */
export function unpackAscii85(bytes: Uint8Array, from: number, into: UnpackedBytes): void {
  let value = 0;
  let count = 0;
  const four = (wanted: number) => {
    for (let k = 0; k < wanted; k++) into.put((value >>> (24 - 8 * k)) & 255);
    value = 0;
    count = 0;
  };
  for (let i = from; i < bytes.length && !into.isFull && bytes[i] !== 0x7e; i++) {
    const byte = bytes[i]!;
    if (byte === 0x7a && count === 0) four(4);
    else if (byte >= 0x21 && byte <= 0x75) {
      value = value * 85 + byte - 0x21;
      count++;
      if (count === 5) four(4);
    }
  }
  if (count > 1) {
    const wanted = count - 1;
    // The letters that are missing count as the last of them (84).
    for (; count < 5; count++) value = value * 85 + 84;
    four(wanted);
  }
}
