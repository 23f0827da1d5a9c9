import { axisAt, type MirrorAxis } from '../exchange/foldInHalf/mirrorAxes';
import { lineThrough } from '../geometry/mirror';
import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { BringInDraft, FoldLine } from './bringIn';

export function foldLineOf({ ends, apart, apartAt }: MirrorAxis): FoldLine {
  return { from: ends[0], to: ends[1], apart, apartAt };
}

/** The line through two places, as far as it crosses the outline; null where it does not. */
export function foldLineThrough(path: Path, one: Point, two: Point): FoldLine | null {
  const mirror = lineThrough(one, two);
  const axis = mirror === null ? null : axisAt(path, mirror);
  return axis === null ? null : foldLineOf(axis);
}

/** The draft with one end of its fold drawn to a place and the other where it was; unchanged where no line results. */
export function withFoldEnd(draft: BringInDraft, end: 'from' | 'to', at: Point): BringInDraft {
  const { path, lie } = draft;
  const line = lie?.line ?? null;
  if (path === null || lie == null || line === null) return draft;
  const moved = end === 'from' ? foldLineThrough(path, at, line.to) : foldLineThrough(path, line.from, at);
  return moved === null ? draft : { ...draft, lie: { ...lie, line: moved } };
}
