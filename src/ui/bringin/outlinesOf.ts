import { joinLoosePaths } from '../../exchange/drawing/joinLoosePaths';
import type { BringInDraft, DraftShape } from '../../store/bringIn';
import { chooseOutline } from './chooseOutline';

/**
 * A draft at true size, its loose lines joined into outlines. A lone closed outline is taken for the piece; one that was
 * chosen before the size was known stays chosen.
 */
export function outlinesOf(draft: BringInDraft): BringInDraft {
  const { outlines, notes } = joinLoosePaths(draft.shapes);
  const known = new Map(draft.shapes.map((shape) => [shape.id, shape]));
  const shapes = outlines.flatMap(({ from, path, closed }): DraftShape[] => {
    const first = known.get(from[0] ?? '');
    if (first === undefined) return [];
    const nearText = first.nearText ?? from.map((id) => known.get(id)?.nearText).find((words) => words !== undefined);
    return [{ ...first, path, closed, ...(nearText === undefined ? {} : { nearText }) }];
  });
  const joined = { ...draft, shapes, notes };
  const closed = shapes.filter((shape) => shape.closed);
  const outline = shapes.find(({ id }) => id === draft.outline) ?? (closed.length === 1 ? closed[0] : undefined);
  return outline?.closed ? chooseOutline(joined, outline) : { ...joined, outline: null };
}
