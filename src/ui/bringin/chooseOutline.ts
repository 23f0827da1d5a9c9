import { guessEdges } from '../../exchange/edgeGuesses';
import { edgeParts } from '../../exchange/edgeParts';
import { type RedrawnOutline, redrawOutline } from '../../exchange/redrawOutline';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { BringInDraft, DraftCorner, DraftShape } from '../../store/bringIn';
import { nameFromFile } from './nameFromFile';
import { type Workshop, watched } from './watched';

/** Lines and curves from which on finding corners and curves would hold the page up. */
const manySteps = 1000;

/**
 * Takes a closed shape of the draft for the outline; corners and what its edges may be are proposed at once. A trace of
 * many small steps is drawn with few smooth curves, in the background where there are very many, and how far they leave it
 * is noted. The words beside it in the drawing name the piece, unless the maker has.
 */
export async function outlineChosen(
  draft: BringInDraft,
  shape: DraftShape,
  workshop: Workshop,
): Promise<Outcome<BringInDraft>> {
  if (shape.path.length < manySteps) return succeed(chooseOutline(draft, shape));
  const redrawn = await watched({ task: 'outline', path: shape.path }, workshop);
  return redrawn.ok ? succeed(withOutline(draft, shape, redrawn.value)) : redrawn;
}

/** The same without waiting, for a shape of few lines. */
export function chooseOutline(draft: BringInDraft, shape: DraftShape): BringInDraft {
  return withOutline(draft, shape, redrawOutline(shape.path));
}

function withOutline(draft: BringInDraft, shape: DraftShape, { path, corners, note }: RedrawnOutline): BringInDraft {
  const name = hasOfferedName(draft) ? (shape.nearText ?? nameFromFile(draft.source)) : draft.name;
  return withGuesses({
    ...draft,
    name,
    outline: shape.id,
    path,
    corners: corners.map(
      ({ segment, t }, index): DraftCorner => ({ segment, t, name: `Edge ${index + 1}`, role: 'other' }),
    ),
    outlineNote: note,
    outlineIs: null,
    lie: null,
  });
}

/** Whether the name is still one that was offered, from the file or from words beside an outline. */
function hasOfferedName({ name, source, shapes }: BringInDraft): boolean {
  return name === nameFromFile(source) || shapes.some(({ nearText }) => nearText === name);
}

/** Guesses anew what each edge is, from where it lies and what the piece is called. */
export function withGuesses(draft: BringInDraft): BringInDraft {
  if (draft.path === null) return draft;
  const parts = edgeParts(draft.path, draft.corners);
  if (!parts.ok) return draft;
  const guesses = guessEdges(parts.value, draft.name);
  return {
    ...draft,
    corners: draft.corners.map((corner, index) => {
      const guess = guesses[index];
      // A fold that was drawn as one stays what it is.
      const drawn = corner.onFold === true && draft.lie?.whole != null;
      return guess === undefined || drawn ? corner : { ...corner, role: guess.role, name: guess.name };
    }),
  };
}
