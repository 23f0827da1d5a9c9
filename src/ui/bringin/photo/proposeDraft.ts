import { fail, type Outcome, succeed } from '../../../geometry/outcome';
import type { Point } from '../../../geometry/point';
import { movePath, movePoint, type RigidMove, turnAbout } from '../../../geometry/rigidMove';
import type { BringInDraft } from '../../../store/bringIn';
import type { PictureDraft } from '../../../store/pictureDraft';
import type { OutlineKind, ProposedOutline } from '../../../workers/photoMessages';
import { askPhotos, type Darkroom, straightPictures } from './askPhotos';
import { draftFromOutline } from './draftFromOutline';
import { squaringTurn, turnPicture } from './turnPicture';

export interface Proposed {
  /** The pictures, turned so that the piece lies square. */
  readonly picture: PictureDraft;
  readonly draft: BringInDraft;
}

/** Has the outline found on the pictures, and lays both square: the longest straight edge level or upright. */
export async function proposeDraft(
  picture: PictureDraft,
  inside: Point | null,
  of: OutlineKind,
  darkroom: Darkroom,
): Promise<Outcome<Proposed>> {
  const leaveOut = picture.parts.map(({ straight }) =>
    straight === null || straight.reference.kind !== 'sheet' ? null : straight.straightened.corners,
  );
  const found = await askPhotos<'outline'>(
    { kind: 'outline', parts: straightPictures(picture), inside, of, leaveOut },
    darkroom,
  );
  if (!found.ok) return found;
  const angle = squaringTurn(found.value.drawn);
  const turn = angle === null ? null : turnAbout({ x: 0, y: 0 }, angle);
  const turned = turn === null ? null : await turnPicture(picture, turn, darkroom);
  // A piece that could not be turned is still the piece, only askew.
  const square = turn !== null && turned?.ok ? { picture: turned.value, outline: movedBy(turn, found.value) } : null;
  const lying = square ?? { picture, outline: found.value };
  const draft = draftFromOutline(lying.picture, lying.outline, of);
  return draft === null
    ? fail('picture-gone', 'The picture is not on the table any more. Open it again.')
    : succeed({ picture: lying.picture, draft });
}

/** The same outline on a picture that was turned. */
function movedBy(turn: RigidMove, { found, drawn, ...outline }: ProposedOutline): ProposedOutline {
  const corners = drawn.corners.map((corner) => ({ ...corner, point: movePoint(turn, corner.point) }));
  return {
    ...outline,
    found: { ...found, path: movePath(turn, found.path) },
    drawn: { ...drawn, path: movePath(turn, drawn.path), corners },
  };
}
