/** Numbers out of a file's bytes. A place beyond the end reads as NaN, so that every comparison with it fails. */
export interface ByteReader {
  readonly length: number;
  u8(at: number): number;
  u16(at: number): number;
  u32(at: number): number;
  i32(at: number): number;
  /** `count` bytes as Latin letters; shorter at the end. */
  text(at: number, count: number): string;
}

/** The same bytes read with the low byte first (Intel) or last (Motorola, the order of networks). */
export function byteReader(bytes: Uint8Array, lowFirst: boolean): ByteReader {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const has = (at: number, count: number) => at >= 0 && at + count <= bytes.length;
  return {
    length: bytes.length,
    u8: (at) => (has(at, 1) ? view.getUint8(at) : Number.NaN),
    u16: (at) => (has(at, 2) ? view.getUint16(at, lowFirst) : Number.NaN),
    u32: (at) => (has(at, 4) ? view.getUint32(at, lowFirst) : Number.NaN),
    i32: (at) => (has(at, 4) ? view.getInt32(at, lowFirst) : Number.NaN),
    text: (at, count) => String.fromCharCode(...bytes.subarray(at, at + count)),
  };
}
