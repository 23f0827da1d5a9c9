import type { UnpackedBytes } from './unpackedBytes';

const clear = 256;
const end = 257;

/**
 * Unpacks LZW as PDF writes it (ISO 32000-1, 7.4.4) from `from` on, until it ends, is damaged, or `into` is full. `early`:
 * codes grow one step early, as they do unless the file says otherwise.
 */
export function unpackLzw(bytes: Uint8Array, from: number, into: UnpackedBytes, early: boolean): void {
  // Every entry is a stretch of what was written before: where it begins, and how long it is.
  let starts: number[] = [];
  let lengths: number[] = [];
  let before: { readonly at: number; readonly length: number } | null = null;
  let width = 9;
  let held = 0;
  let count = 0;
  for (let i = from; i < bytes.length && !into.isFull; i++) {
    held = ((held << 8) | bytes[i]!) & 0xffffff;
    count += 8;
    if (count < width) continue;
    count -= width;
    const code = (held >> count) & ((1 << width) - 1);
    if (code === end) return;
    if (code === clear) {
      starts = [];
      lengths = [];
      before = null;
      width = 9;
      continue;
    }
    const at = into.size;
    const entry = code - end - 1;
    // A new entry is the last stretch and the byte after it, which may be the first of this one.
    if (before && starts.length < 4096) {
      starts.push(before.at);
      lengths.push(before.length + 1);
    }
    if (code < clear) into.put(code);
    else if (entry < starts.length) into.again(starts[entry]!, lengths[entry]!);
    else return;
    before = { at, length: into.size - at };
    const next = end + 1 + starts.length + 1 + (early ? 1 : 0);
    width = next > 2048 ? 12 : next > 1024 ? 11 : next > 512 ? 10 : 9;
  }
}

/** Unpacks run lengths (ISO 32000-1, 7.4.5) from `from` on, until they end or `into` is full. */
export function unpackRuns(bytes: Uint8Array, from: number, into: UnpackedBytes): void {
  for (let i = from; i < bytes.length && !into.isFull; ) {
    const length = bytes[i++]!;
    if (length === 128) return;
    if (length < 128) for (let k = 0; k <= length && i < bytes.length; k++) into.put(bytes[i++]!);
    else {
      const byte = bytes[i++] ?? 0;
      for (let k = length; k < 257; k++) into.put(byte);
    }
  }
}
