import type { UnpackedBytes } from './unpackedBytes';

/** A code of 1 to 15 bits a symbol: how many symbols have each length, and the symbols in the order of their codes. */
interface Code {
  readonly counts: Uint16Array;
  readonly symbols: Uint16Array;
}

const longest = 15;
const lengthBase = [
  3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258,
] as const;
const lengthBits = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0] as const;
const distanceBase = [
  1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145,
  8193, 12289, 16385, 24577,
] as const;
const lengthOrder = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15] as const;

function codeOf(lengths: readonly number[]): Code {
  const counts = new Uint16Array(longest + 1);
  for (const length of lengths) counts[length]!++;
  const places = new Uint16Array(longest + 2);
  for (let length = 1; length <= longest; length++) places[length + 1] = places[length]! + counts[length]!;
  const symbols = new Uint16Array(lengths.length);
  lengths.forEach((length, symbol) => {
    if (length > 0) symbols[places[length]!++] = symbol;
  });
  counts[0] = 0;
  return { counts, symbols };
}

const fixedLengths = codeOf(Array.from({ length: 288 }, (_, i) => (i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8)));
const fixedDistances = codeOf(Array.from({ length: 30 }, () => 5));

/**
 * Unpacks a zlib stream (RFC 1950, RFC 1951) from `from` on into `into`, until it ends, is damaged, or `into` is full. What
 * came before the damage counts. Does nothing where no such stream begins.
 */
export function inflate(bytes: Uint8Array, from: number, into: UnpackedBytes): void {
  const [method, flags] = [bytes[from] ?? 0, bytes[from + 1] ?? 0];
  if ((method & 15) !== 8 || (256 * method + flags) % 31 !== 0) return;
  new Inflation(bytes, from + 2, into).run();
}

/** Thrown, and caught here, where the packed data ends or makes no sense. */
const damage = new Error('The packed data is damaged.');

class Inflation {
  private held = 0;
  private count = 0;

  constructor(
    private readonly bytes: Uint8Array,
    private at: number,
    private readonly into: UnpackedBytes,
  ) {}

  run(): void {
    try {
      let last = false;
      while (!last && !this.into.isFull) {
        last = this.bits(1) === 1;
        const kind = this.bits(2);
        if (kind === 0) this.stored();
        else if (kind === 1) this.coded(fixedLengths, fixedDistances);
        else if (kind === 2) this.withOwnCodes();
        else return;
      }
    } catch (error) {
      if (error !== damage) throw error;
    }
  }

  private bits(wanted: number): number {
    while (this.count < wanted) {
      if (this.at >= this.bytes.length) throw damage;
      this.held |= this.bytes[this.at++]! << this.count;
      this.count += 8;
    }
    const value = this.held & ((1 << wanted) - 1);
    this.held >>>= wanted;
    this.count -= wanted;
    return value;
  }

  private symbol({ counts, symbols }: Code): number {
    let code = 0;
    let first = 0;
    let index = 0;
    for (let length = 1; length <= longest; length++) {
      code |= this.bits(1);
      const here = counts[length]!;
      if (code - here < first) return symbols[index + code - first]!;
      index += here;
      first = (first + here) << 1;
      code <<= 1;
    }
    throw damage;
  }

  private stored(): void {
    this.held = 0;
    this.count = 0;
    const length = this.bits(16);
    this.at += 2;
    for (let i = 0; i < length && this.at < this.bytes.length; i++) this.into.put(this.bytes[this.at++]!);
  }

  private withOwnCodes(): void {
    const [lengths, distances, order] = [this.bits(5) + 257, this.bits(5) + 1, this.bits(4) + 4];
    const short = new Array<number>(19).fill(0);
    for (let i = 0; i < order; i++) short[lengthOrder[i]!] = this.bits(3);
    const shortCode = codeOf(short);
    const all: number[] = [];
    while (all.length < lengths + distances) {
      const symbol = this.symbol(shortCode);
      if (symbol < 16) all.push(symbol);
      else {
        if (symbol === 16 && all.length === 0) throw damage;
        const repeated = symbol === 16 ? all.at(-1)! : 0;
        const times = symbol === 16 ? 3 + this.bits(2) : symbol === 17 ? 3 + this.bits(3) : 11 + this.bits(7);
        for (let i = 0; i < times; i++) all.push(repeated);
      }
    }
    this.coded(codeOf(all.slice(0, lengths)), codeOf(all.slice(lengths, lengths + distances)));
  }

  private coded(lengths: Code, distances: Code): void {
    const { into } = this;
    while (!into.isFull) {
      const symbol = this.symbol(lengths);
      if (symbol === 256) return;
      if (symbol < 256) {
        into.put(symbol);
        continue;
      }
      const length = lengthBase[symbol - 257];
      if (length === undefined) throw damage;
      const size = length + this.bits(lengthBits[symbol - 257]!);
      const far = this.symbol(distances);
      const base = distanceBase[far];
      if (base === undefined) throw damage;
      const distance = base + this.bits(far < 4 ? 0 : (far >> 1) - 1);
      into.again(into.size - distance, size);
    }
  }
}
