import { distance } from '../../geometry/point';
import { type Path, reversePath, type Segment } from '../../geometry/segment';
import { sameLine } from '../../geometry/tolerance';
import { controlBox } from './nearText';

interface Held<T> {
  readonly item: T;
  readonly path: Path;
  readonly closed: boolean;
}

/** mm. Boxes are sorted into cells of this size; two copies of a line fall into the same or a neighbouring cell. */
const cell = 1;

/**
 * The items without those drawn a second time: the same points and handles to within a hundredth of a mm, drawn in
 * either direction and, for a closed line, from any of its joints. The first of each is kept.
 */
export function withoutCopies<T extends { readonly path: Path; readonly closed: boolean }>(items: readonly T[]): T[] {
  const cells = new Map<string, Held<T>[]>();
  const kept: T[] = [];
  for (const item of items) {
    const box = controlBox(item.path);
    const keys = [box.minX, box.minY, box.maxX, box.maxY].map((value) => value / cell);
    const count = item.path.length;
    const isCopy = neighbours(keys).some((key) =>
      cells.get(`${count}/${key}`)?.some((other) => other.closed === item.closed && areSame(other.path, item)),
    );
    if (isCopy) continue;
    kept.push(item);
    const key = `${count}/${keys.map(Math.floor).join(',')}`;
    const held = cells.get(key) ?? [];
    held.push({ item, path: item.path, closed: item.closed });
    cells.set(key, held);
  }
  return kept;
}

/** Cell names a box may have been stored under: its own, and the next one along each side it nearly reaches. */
function neighbours(keys: readonly number[]): string[] {
  let names = [''];
  for (const key of keys) {
    const cells = [...new Set([key, key - sameLine / cell, key + sameLine / cell].map(Math.floor))];
    names = names.flatMap((name) => cells.map((at) => (name === '' ? `${at}` : `${name},${at}`)));
  }
  return names;
}

function areSame(path: Path, other: { readonly path: Path; readonly closed: boolean }): boolean {
  for (const candidate of [other.path, reversePath(other.path)]) {
    if (!other.closed) {
      if (matches(path, candidate, 0)) return true;
      continue;
    }
    for (let shift = 0; shift < candidate.length; shift++) {
      if (distance(candidate[shift]!.start, path[0]!.start) <= sameLine && matches(path, candidate, shift)) return true;
    }
  }
  return false;
}

function matches(path: Path, other: Path, shift: number): boolean {
  return path.every((segment, i) => near(segment, other[(i + shift) % other.length]!));
}

function near(a: Segment, b: Segment): boolean {
  if (a.kind !== b.kind || distance(a.start, b.start) > sameLine || distance(a.end, b.end) > sameLine) return false;
  if (a.kind === 'line' || b.kind === 'line') return true;
  return distance(a.control1, b.control1) <= sameLine && distance(a.control2, b.control2) <= sameLine;
}
