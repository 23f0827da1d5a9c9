import type { DrawnShape } from '../../exchange/drawing/drawingReading';
import { lineGroups, shapesOfGroups } from '../../exchange/drawing/lineGroups';
import type { BringInDraft, LineChoice } from '../../store/bringIn';
import { draftShapes } from './draftShapes';
import { sizeFromLayer } from './sizeFromLayer';

/** The lines told apart by look and layer, all of them wanted; nothing where they are all alike. */
export function groupsOf(lines: readonly DrawnShape[]): { readonly groups?: LineChoice } {
  const all = lineGroups(lines);
  return all.length < 2 ? {} : { groups: { all, kept: all.map(({ key }) => key), settled: false } };
}

/** The lines that are wanted. */
export function wantedLines({ lines = [], groups }: BringInDraft): readonly DrawnShape[] {
  return groups === undefined ? lines : shapesOfGroups(lines, new Set(groups.kept));
}

/** Keeps these groups and no others; the table shows only their lines, and no outline is chosen any more. */
export function keepGroups(draft: BringInDraft, kept: readonly string[]): BringInDraft {
  if (draft.groups === undefined) return draft;
  const next: BringInDraft = { ...unchosen(draft), groups: { ...draft.groups, kept, settled: false } };
  const size = sizeOf(next);
  return { ...next, shapes: draftShapes(wantedLines(next)), ...(size === null ? {} : { size }) };
}

/** The draft before any outline was chosen. */
export function unchosen(draft: BringInDraft): BringInDraft {
  return { ...draft, outline: null, path: null, corners: [], outlineNote: null, outlineIs: null, lie: null };
}

/** The size that the wanted lines are of, where exactly one of their layers is named for one. */
function sizeOf({ groups }: BringInDraft): string | null {
  const kept = groups?.all.filter(({ key }) => groups.kept.includes(key)) ?? [];
  const sizes = new Set(kept.flatMap(({ layer }) => sizeFromLayer(layer) ?? []));
  return sizes.size === 1 ? [...sizes][0]! : null;
}
