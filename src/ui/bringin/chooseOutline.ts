import { proposeCorners } from '../../exchange/cornerProposal';
import { guessEdges } from '../../exchange/edgeGuesses';
import { edgeParts } from '../../exchange/edgeParts';
import { enclosedArea } from '../../geometry/area';
import { type Path, reversePath } from '../../geometry/segment';
import type { BringInDraft, DraftCorner, DraftShape } from '../../store/bringIn';

/** Takes a closed shape of the draft for the outline; corners and what its edges may be are proposed at once. */
export function chooseOutline(draft: BringInDraft, shape: DraftShape): BringInDraft {
  const path = asOutline(shape.path);
  const corners = proposeCorners(path).map(
    ({ segment, t }, index): DraftCorner => ({ segment, t, name: `Edge ${index + 1}`, role: 'other' }),
  );
  return withGuesses({ ...draft, outline: shape.id, path, corners });
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
      return guess === undefined ? corner : { ...corner, role: guess.role, name: guess.name };
    }),
  };
}

/** The outline in the direction every piece has: counter-clockwise as seen on screen. */
function asOutline(path: Path): Path {
  return enclosedArea(path) < 0 ? reversePath(path) : path;
}
