/** What a packed part of a file unpacks to: counted, and kept only where it is asked for. */
export class UnpackedBytes {
  size = 0;
  data: Uint8Array;

  /** `most`: bytes after which `isFull` says so. Without `keep` no memory is taken however much is counted. */
  constructor(
    private readonly most: number,
    private readonly keep: boolean,
  ) {
    this.data = new Uint8Array(keep ? 4096 : 0);
  }

  get isFull(): boolean {
    return this.size > this.most;
  }

  put(byte: number): void {
    if (this.keep) {
      this.room(1);
      this.data[this.size] = byte;
    }
    this.size++;
  }

  /** Repeats `length` bytes from a place reached before; they may run on into what is being written. */
  again(from: number, length: number): void {
    if (this.keep) {
      this.room(length);
      for (let i = 0; i < length; i++) this.data[this.size + i] = this.data[from + i] ?? 0;
    }
    this.size += length;
  }

  private room(length: number): void {
    if (this.size + length <= this.data.length) return;
    const larger = new Uint8Array(2 * (this.size + length));
    larger.set(this.data);
    this.data = larger;
  }
}
