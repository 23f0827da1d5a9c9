import type { PageJoin } from './pageJoin';

/**
 * How pages that lie beside, or below, each other follow one another in the file. Tiles are written row by row or column
 * by column, so the number of pages from one to its neighbour is the same all over the sheet; where pieces repeat, it
 * tells the right neighbour from one that looks alike.
 */
export class ReadingOrder {
  private readonly beside: number | null;
  /** Pages from one to the one below it; null when none was found. */
  readonly below: number | null;

  constructor(joins: readonly PageJoin[]) {
    this.beside = commonest(joins.filter(isBeside));
    this.below = commonest(joins.filter((join) => !isBeside(join)));
  }

  holds(join: PageJoin): boolean {
    const forward = isForward(join) ? 1 : -1;
    return forward * (join.second - join.first) === (isBeside(join) ? this.beside : this.below);
  }
}

function isBeside({ shift }: PageJoin): boolean {
  return Math.abs(shift.x) > Math.abs(shift.y);
}

function isForward(join: PageJoin): boolean {
  return (isBeside(join) ? join.shift.x : join.shift.y) > 0;
}

function commonest(joins: readonly PageJoin[]): number | null {
  const counts = new Map<number, number>();
  for (const join of joins) {
    const apart = (isForward(join) ? 1 : -1) * (join.second - join.first);
    counts.set(apart, (counts.get(apart) ?? 0) + join.matches * join.agreement * (join.sure ? 2 : 1));
  }
  const [first] = [...counts].sort((a, b) => b[1] - a[1] || Math.abs(a[0]) - Math.abs(b[0]));
  return first ? first[0] : null;
}
