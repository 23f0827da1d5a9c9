import type { JoinResult, LoosePath } from '../../exchange/drawing/joinLoosePaths';
import { type Outcome, succeed } from '../../geometry/outcome';
import { joinGap } from '../../geometry/tolerance';
import type { BringInDraft, DraftShape } from '../../store/bringIn';
import { outlineChosen } from './chooseOutline';
import { draftShapes } from './draftShapes';
import { wantedLines } from './lineChoice';
import { type Workshop, watched } from './watched';

/**
 * A draft at true size, its wanted lines joined into outlines. A lone closed outline is taken for the piece; one that was
 * chosen before stays chosen.
 */
export async function outlinesOf(draft: BringInDraft, workshop: Workshop): Promise<Outcome<BringInDraft>> {
  const shapes = draftShapes(wantedLines(draft));
  const lines = shapes.map(({ id, path, closed }): LoosePath => ({ id, path, closed }));
  const joined = await watched({ task: 'join', lines, gap: draft.gap ?? joinGap }, workshop);
  return joined.ok ? withOutlines(draft, shapes, joined.value, workshop) : joined;
}

async function withOutlines(
  draft: BringInDraft,
  lines: readonly DraftShape[],
  { outlines, notes }: JoinResult,
  workshop: Workshop,
): Promise<Outcome<BringInDraft>> {
  const known = new Map(lines.map((shape) => [shape.id, shape]));
  const shapes = outlines.flatMap(({ from, path, closed }): DraftShape[] => {
    const first = known.get(from[0] ?? '');
    if (first === undefined) return [];
    const nearText = first.nearText ?? from.map((id) => known.get(id)?.nearText).find((words) => words !== undefined);
    return [{ ...first, path, closed, from, ...(nearText === undefined ? {} : { nearText }) }];
  });
  const joined = { ...draft, shapes, notes };
  const closed = shapes.filter((shape) => shape.closed);
  const outline = shapes.find(({ id }) => id === draft.outline) ?? (closed.length === 1 ? closed[0] : undefined);
  return outline?.closed ? outlineChosen(joined, outline, workshop) : succeed({ ...joined, outline: null });
}
