import type { Point } from '../geometry/point';
import { cubic, line, type Path, type Segment } from '../geometry/segment';

/**
 * Plain data whose paths are taken out as numbers, to be sent to another thread: numbers are moved, and the many small
 * objects of a path need not be copied one by one.
 */
export interface Packed {
  readonly rest: unknown;
  /** The parts of `rest` whose member `path` was taken out, in the order of the numbers. */
  readonly holders: readonly object[];
  readonly numbers: Float64Array<ArrayBuffer>;
}

/** Takes out every path that is a member named `path`. What shares an object goes on sharing it. */
export function packPaths(value: unknown): Packed {
  const numbers: number[] = [];
  const holders: object[] = [];
  const copies = new Map<object, object>();

  function visit(part: unknown): unknown {
    if (typeof part !== 'object' || part === null) return part;
    const isArray = Array.isArray(part);
    // Bytes, files and the like hold no paths.
    if (!isArray && Object.getPrototypeOf(part) !== Object.prototype) return part;
    const known = copies.get(part);
    if (known !== undefined) return known;
    const copy = isArray ? part.map(visit) : copyOf(part);
    copies.set(part, copy);
    return copy;
  }

  function copyOf(part: object): object {
    const copy: Record<string, unknown> = { ...part };
    for (const name in copy) {
      const member = copy[name];
      if (name === 'path' && Array.isArray(member) && isPath(member)) {
        write(member, numbers);
        holders.push(copy);
        copy.path = null;
      } else if (typeof member === 'object' && member !== null) copy[name] = visit(member);
    }
    return copy;
  }

  const rest = visit(value);
  return { rest, holders, numbers: Float64Array.from(numbers) };
}

/** The data as it was before it was packed. Its paths are put into what arrived itself, so it can be done but once. */
export function unpackPaths<Data>({ rest, holders, numbers }: Packed): Data {
  let at = 0;
  for (const holder of holders as { path: Path }[]) {
    const segments = numbers[at]!;
    holder.path = read(numbers, at + 1, segments);
    at += 3 + segments * stride;
  }
  return rest as Data;
}

/** Numbers to a segment: its kind, two handles, its end. */
const stride = 7;

const nowhere: Point = { x: 0, y: 0 };

function write(path: Path, numbers: number[]): void {
  const { start } = path[0]!;
  numbers.push(path.length, start.x, start.y);
  for (const segment of path) {
    const isLine = segment.kind === 'line';
    const { x: ax, y: ay } = isLine ? nowhere : segment.control1;
    const { x: bx, y: by } = isLine ? nowhere : segment.control2;
    numbers.push(isLine ? 0 : 1, ax, ay, bx, by, segment.end.x, segment.end.y);
  }
}

function read(numbers: Float64Array, from: number, segments: number): Path {
  const path: Segment[] = [];
  let start = { x: numbers[from]!, y: numbers[from + 1]! };
  for (let at = from + 2; path.length < segments; at += stride) {
    const end = { x: numbers[at + 5]!, y: numbers[at + 6]! };
    if (numbers[at] === 0) path.push(line(start, end));
    else {
      const control1 = { x: numbers[at + 1]!, y: numbers[at + 2]! };
      const control2 = { x: numbers[at + 3]!, y: numbers[at + 4]! };
      path.push(cubic(start, control1, control2, end));
    }
    start = end;
  }
  return path;
}

/** Whether these are segments and nothing else, each beginning where the one before it ends. */
function isPath(parts: readonly unknown[]): parts is Path {
  let end: Point | null = null;
  for (const part of parts as readonly (Partial<Segment> | null)[]) {
    if (part?.kind !== 'line' && part?.kind !== 'cubic') return false;
    const segment = part as Segment;
    if (end !== null && !(Object.is(segment.start.x, end.x) && Object.is(segment.start.y, end.y))) return false;
    end = segment.end;
  }
  return parts.length > 0;
}
