import { proposeCorners } from '../../exchange/cornerProposal';
import { guessEdges } from '../../exchange/edgeGuesses';
import { edgeParts } from '../../exchange/edgeParts';
import { smoothOutline } from '../../exchange/smoothOutline';
import { enclosedArea } from '../../geometry/area';
import { type Path, reversePath } from '../../geometry/segment';
import type { BringInDraft, DraftCorner, DraftShape } from '../../store/bringIn';
import { nameFromFile } from './nameFromFile';

/**
 * Takes a closed shape of the draft for the outline; corners and what its edges may be are proposed at once. A trace of
 * many small steps is drawn with few smooth curves, and how far they leave it is noted. The words beside it in the drawing
 * name the piece, unless the maker has.
 */
export function chooseOutline(draft: BringInDraft, shape: DraftShape): BringInDraft {
  const asDrawn = asOutline(shape.path);
  const proposed = proposeCorners(asDrawn);
  const smoothed = smoothOutline(asDrawn, proposed);
  const changed = smoothed.segmentsAfter < smoothed.segmentsBefore;
  const corners = (changed ? smoothed.corners : proposed).map(
    ({ segment, t }, index): DraftCorner => ({ segment, t, name: `Edge ${index + 1}`, role: 'other' }),
  );
  const path = changed ? smoothed.path : asDrawn;
  const outlineNote = changed || smoothed.roughEdges > 0 ? smoothed.sentence : null;
  const name = hasOfferedName(draft) ? (shape.nearText ?? nameFromFile(draft.source)) : draft.name;
  return withGuesses({ ...draft, name, outline: shape.id, path, corners, outlineNote, outlineIs: null });
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
      return guess === undefined ? corner : { ...corner, role: guess.role, name: guess.name };
    }),
  };
}

/** The outline in the direction every piece has: counter-clockwise as seen on screen. */
function asOutline(path: Path): Path {
  return enclosedArea(path) < 0 ? reversePath(path) : path;
}
