import { type Outcome, succeed } from '../../geometry/outcome';
import { pathLength } from '../../geometry/path';
import type { BringInDraft } from '../../store/bringIn';
import { outlinesOf } from './outlinesOf';
import type { Workshop } from './watched';

/**
 * A draft taken as far as it goes by itself: its lines are joined once the size is known, and an only outline is chosen.
 * Where lines differ in look or layer the maker picks among them first, unless nearly all of them make one outline.
 */
export async function readyDraft(draft: BringInDraft, workshop: Workshop): Promise<Outcome<BringInDraft>> {
  if (draft.scale.kind === 'ask') return succeed(draft);
  const joined = await outlinesOf(draft, workshop);
  const { groups } = draft;
  if (!joined.ok || groups === undefined || groups.settled) return joined;
  return succeed(isMostOf(joined.value) ? { ...joined.value, groups: { ...groups, settled: true } } : draft);
}

/** A share of the outline's length. What a second size leaves over is about as long as the outline itself. */
const smallRest = 0.5;

/** Whether the chosen outline leaves little of the drawing over: a grainline, notches, but no further size or piece. */
function isMostOf({ shapes, outline }: BringInDraft): boolean {
  const lengthOf = (wanted: boolean) =>
    shapes.reduce((sum, { id, path }) => ((id === outline) === wanted ? sum + pathLength(path, 0.1) : sum), 0);
  return outline !== null && lengthOf(false) < smallRest * lengthOf(true);
}
