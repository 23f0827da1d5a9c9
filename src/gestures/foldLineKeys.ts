import type { Point } from '../geometry/point';
import type { BringInDraft, FoldLine } from '../store/bringIn';
import { withStep } from '../store/draftHistory';
import { withFoldEnd } from '../store/foldLine';
import { type DraftSpot, nextDraftSpot, openOutline, saysOfSpot } from './draftNodes';
import type { TableScene } from './scene';

export type FoldEnd = 'from' | 'to';

const ends: readonly FoldEnd[] = ['from', 'to'];

/** The fold whose ends can be moved now; null while there is none, or the piece is folded. */
export function openFold({ draft, place }: Pick<TableScene, 'draft' | 'place'>): FoldLine | null {
  return draft?.lie?.whole === null && place === 'bring-in' ? draft.lie.line : null;
}

/** The end of the fold that keys move; null for none, or while a point of the outline is chosen. */
export function chosenFoldEnd({ foldEnd = null, node = null, lie }: BringInDraft): FoldEnd | null {
  return lie?.whole === null && lie.line !== null && node === null ? foldEnd : null;
}

/** The draft with the next thing chosen that keys can move, and what to say of it; `says` is null past the last one. */
export interface NextStop {
  readonly draft: BringInDraft;
  readonly says: string | null;
}

/** Tab among what a draft has to move: the ends of the fold, then the points of the outline. */
export function nextStop(scene: TableScene, draft: BringInDraft, backwards: boolean): NextStop {
  const folds = openFold(scene) === null ? [] : ends;
  const points = openOutline(scene) !== null;
  const end = chosenFoldEnd(draft);
  if (end !== null) {
    const next = ends[ends.indexOf(end) + (backwards ? -1 : 1)];
    if (next !== undefined) return atEnd(draft, next);
    return !backwards && points ? atSpot(draft, nextDraftSpot({ ...draft, node: null }, false)) : atSpot(draft, null);
  }
  const onPoint = points && draft.node != null;
  if (!backwards && !onPoint && folds.length > 0) return atEnd(draft, 'from');
  const spot = points ? nextDraftSpot(draft, backwards) : null;
  return spot === null && backwards && folds.length > 0 ? atEnd(draft, 'to') : atSpot(draft, spot);
}

export const saysOfFoldEnd = 'End of the fold: drag it, or move it with the arrow keys; the other end stays';

function atEnd(draft: BringInDraft, foldEnd: FoldEnd): NextStop {
  return { draft: { ...draft, node: null, foldEnd }, says: saysOfFoldEnd };
}

function atSpot(draft: BringInDraft, spot: DraftSpot | null): NextStop {
  return {
    draft: { ...draft, node: spot?.node ?? null, foldEnd: null },
    says: spot === null ? null : saysOfSpot(spot),
  };
}

/** mm that one arrow press moves an end of the fold; ten times that with Shift. It stays on the outline. */
const nudge = 0.1;

/** mm. An arrow along the fold only slides its end on the outline's own place, which is no move. */
const unmoved = 1e-6;

/** The draft with the chosen end of its fold moved, as one step to take back; unchanged where no line results. */
export function nudgeFoldEnd(draft: BringInDraft, right: number, down: number, large: boolean): BringInDraft {
  const end = chosenFoldEnd(draft);
  const line = draft.lie?.line;
  if (end === null || line == null) return draft;
  const step = nudge * (large ? 10 : 1);
  const to = { x: line[end].x + right * step, y: line[end].y + down * step };
  const moved = withFoldEnd(draft, end, to);
  const laid = moved.lie?.line;
  if (laid == null || away(laid.from, line.from) + away(laid.to, line.to) < unmoved) return draft;
  // Ends are named by which lies higher, or farther left, so one may have become the other.
  const foldEnd = away(laid.from, to) <= away(laid.to, to) ? 'from' : 'to';
  return withStep(draft, { ...moved, foldEnd }, 'the line of the fold');
}

function away(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
