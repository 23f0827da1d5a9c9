import type { BringInDraft } from '../../../store/bringIn';
import { type PictureDraft, saidOf } from '../../../store/pictureDraft';
import type { OutlineKind, ProposedOutline } from '../../../workers/photoMessages';
import { withGuesses } from '../chooseOutline';
import { nameFromFile } from '../nameFromFile';
import { besideSentence } from './beside';
import { outlineError } from './farError';

/** The outline found on a picture as a draft: corners and edges proposed, how it was drawn and how sure it is said. */
export function draftFromOutline(
  picture: PictureDraft,
  { found, drawn }: ProposedOutline,
  of: OutlineKind,
): BringInDraft | null {
  const { flat, parts } = picture;
  const [first] = parts;
  if (flat === null || first === undefined) return null;
  const id = 'outline';
  return withGuesses({
    source: first.source,
    name: nameFromFile(first.source),
    shapes: [{ id, name: 'Outline', path: drawn.path, closed: true }],
    outline: id,
    path: drawn.path,
    corners: drawn.corners.map(({ segment, t }, index) => ({ segment, t, name: `Edge ${index + 1}`, role: 'other' })),
    scale: { kind: 'certain', sentence: [...new Set(parts.map(besideSentence))].join(' ') },
    notes: [
      ...saidOf(picture),
      of === 'drawn-line'
        ? 'The outline follows the middle of the drawn line.'
        : 'The outline follows the edge of the paper.',
      ...expected(outlineError(picture, found.path)),
    ],
    ...doubts(found),
    outlineNote: drawn.sentence,
    outlineIs: null,
    takenFrom: flat.id,
  });
}

const shownBroad =
  'What is in doubt is shown broad on the table. Zoom in there, and move the points of the outline if need be.';

/** What the maker should look at before this becomes a piece, and where. */
function doubts({ path, doubtful, notes }: ProposedOutline['found']): Pick<BringInDraft, 'heed' | 'doubtful'> {
  if (doubtful.length === 0) return { heed: notes };
  // A run that passes the end goes on from the start.
  const stretch = ({ from, to }: { readonly from: number; readonly to: number }) =>
    from <= to ? path.slice(from, to + 1) : [...path.slice(from), ...path.slice(0, to + 1)];
  return { heed: [...notes, shownBroad], doubtful: doubtful.map(stretch) };
}

/** mm. From here on an error on the piece is worth checking against the paper. */
const worthChecking = 0.5;

function expected(error: number | null): string[] {
  if (error === null) return [];
  const far = `Expect the outline to be off by up to ${error.toFixed(1)} mm where it lies farthest from the sheet.`;
  return [error > worthChecking ? `${far} Hold the printed piece against the paper before you cut.` : far];
}
