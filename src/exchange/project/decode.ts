import { usableId } from '../../pattern/problem';

/** Thrown while a file is decoded and caught by its reader: where in the file, and what was expected there. */
export class Misread extends Error {
  constructor(
    readonly place: string,
    readonly expected: string,
  ) {
    super(`${place}: ${expected}`);
  }
}

/** A value of a parsed file, with the place it was found at, such as `garment.blocks[0].edges`. */
export interface Found {
  readonly value: unknown;
  readonly place: string;
}

export function text(found: Found): string {
  if (typeof found.value !== 'string') throw new Misread(found.place, 'a text');
  return found.value;
}

export function flag(found: Found): boolean {
  if (typeof found.value !== 'boolean') throw new Misread(found.place, 'true or false');
  return found.value;
}

export function number(found: Found): number {
  if (typeof found.value !== 'number' || !Number.isFinite(found.value)) throw new Misread(found.place, 'a number');
  return found.value;
}

export function oneOf<Word extends string>(words: readonly Word[]): (found: Found) => Word {
  return (found) => {
    const word = words.find((candidate) => candidate === found.value);
    if (word === undefined) throw new Misread(found.place, `one of ${words.join(', ')}`);
    return word;
  };
}

export function orNull<T>(read: (found: Found) => T): (found: Found) => T | null {
  return (found) => (found.value === null ? null : read(found));
}

export function list<T>(read: (found: Found) => T): (found: Found) => T[] {
  return (found) => {
    if (!Array.isArray(found.value)) throw new Misread(found.place, 'a list');
    return found.value.map((value: unknown, index) => read({ value, place: `${found.place}[${index}]` }));
  };
}

/** A list of exactly so many numbers. */
export function numbers(found: Found, count: number): number[] {
  const read = list(number)(found);
  if (read.length !== count) throw new Misread(found.place, `${count} numbers`);
  return read;
}

/** A record whose keys are ids. */
export function byId<T>(read: (found: Found) => T): (found: Found) => Record<string, T> {
  return (found) => {
    const entries = Object.entries(plainRecord(found));
    for (const [key] of entries) if (!usableId(key)) throw new Misread(found.place, 'usable ids');
    return Object.fromEntries(entries.map(([key, value]) => [key, read({ value, place: `${found.place}.${key}` })]));
  };
}

/**
 * Opens a record: `take` reads a member that must be there, `has` tells of one that may be left out. Members that nobody
 * took are refused, so that nothing in a file is dropped without a word.
 */
export function record<T>(found: Found, read: (members: Members) => T): T {
  const value = plainRecord(found);
  const taken = new Set<string>();
  const place = (name: string) => (found.place === '' ? name : `${found.place}.${name}`);
  const members: Members = {
    take(name, readMember) {
      taken.add(name);
      if (!Object.hasOwn(value, name)) throw new Misread(place(name), 'something, but it is missing');
      return readMember({ value: value[name], place: place(name) });
    },
    has: (name) => Object.hasOwn(value, name),
  };
  const result = read(members);
  const unknown = Object.keys(value).find((name) => !taken.has(name));
  if (unknown !== undefined) throw new Misread(place(unknown), 'nothing; this part is not known');
  return result;
}

export interface Members {
  take<T>(name: string, read: (found: Found) => T): T;
  has(name: string): boolean;
}

function plainRecord(found: Found): Record<string, unknown> {
  if (typeof found.value !== 'object' || found.value === null || Array.isArray(found.value)) {
    throw new Misread(found.place, 'a record');
  }
  return found.value as Record<string, unknown>;
}
