import type { BringInDraft } from '../../../store/bringIn';
import { type PictureDraft, saidOf } from '../../../store/pictureDraft';
import type { OutlineKind, ProposedOutline } from '../../../workers/photoMessages';
import { withGuesses } from '../chooseOutline';
import { nameFromFile } from '../nameFromFile';
import { besideSentence } from './beside';

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
      ...found.notes,
    ],
    outlineNote: drawn.sentence,
    outlineIs: null,
    takenFrom: flat.id,
  });
}
