import { useMemo, useState } from 'react';
import { type Placed, placeByPoints } from '../../../exchange/photo/placeByPoints';
import { fail, type Outcome } from '../../../geometry/outcome';
import { besideShift, flatBounds, type PictureDraft, partNow, withPart } from '../../../store/pictureDraft';
import { markShared } from '../../../store/pictureSpots';
import { formatLength } from '../../../units/length';
import { Complaint } from '../../controls/Complaint';
import { Tray } from '../../places/Tray';
import { useBringInStore } from '../../storeContext';
import { askPhotos, layFlat, straightPictures } from './askPhotos';
import { PutPictureAway } from './PutPictureAway';
import { useDarkroom } from './photoContext';

/** Two pictures of one piece beside each other: the same spots marked on both lay them together. */
export function JoinStep({ picture }: { readonly picture: PictureDraft }) {
  const { actions } = useBringInStore();
  const darkroom = useDarkroom();
  const [refused, setRefused] = useState<{ readonly pairs: unknown; readonly sentence: string } | null>(null);
  const placed = useMemo(() => placeTogether(picture), [picture]);
  const { pairs } = picture;
  // Once another place is marked, the last refusal says nothing any more.
  const complaint = refused?.pairs === pairs ? refused.sentence : null;
  const setComplaint = (sentence: string | null) => setRefused(sentence === null ? null : { pairs, sentence });
  const whole = pairs.filter(({ first, second }) => first !== null && second !== null).length;

  const join = async () => {
    if (!placed.ok) {
      setComplaint(placed.sentence);
      return;
    }
    setComplaint(null);
    const { move, worst } = placed.value;
    const moved = withPart(picture, (part) =>
      part.straight === null ? part : { ...part, straight: { ...part.straight, move } },
    );
    const joined = await askPhotos<'join'>({ kind: 'join', parts: straightPictures(moved) }, darkroom);
    if (!joined.ok) {
      setComplaint(joined.sentence);
      return;
    }
    const flat = layFlat(joined.value);
    const joinNote = `${moved.parts.length} pictures were joined by shared places, which lie ${formatLength(worst, 'mm', { decimals: 2 })} apart at most.`;
    actions.changePicture(() => ({ ...moved, stage: 'outline', flat, joinNote, chosen: null, inside: null }));
  };

  return (
    <Tray
      next={
        whole < 2
          ? 'Click the same spot on both pictures, at two places far apart or more.'
          : 'Mark further shared places, or join the pictures.'
      }
      onward={
        <button type="button" className="button button-main button-wide" onClick={() => void join()}>
          Join the pictures
        </button>
      }
    >
      <ol className="piece-list">
        {pairs.map(({ first, second }, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a place has no name but its number
          <li key={index}>
            <span>{`${index + 1}: ${first === null ? 'still to be marked on the first' : second === null ? 'still to be marked on the second' : 'marked on both'}`}</span>
            <button
              type="button"
              className="button button-plain"
              aria-label={`Take place ${index + 1} away`}
              onClick={() =>
                actions.changePicture((now) => ({
                  ...now,
                  pairs: now.pairs.filter((_, at) => at !== index),
                  chosen: null,
                }))
              }
            >
              Take away
            </button>
          </li>
        ))}
      </ol>
      <button type="button" className="button" onClick={() => actions.changePicture(markInMiddle)}>
        Mark a place in the middle, to be moved by keys
      </button>
      {complaint !== null && <Complaint>{complaint}</Complaint>}
      {complaint === null && whole >= 2 && (
        <p className="tray-note" aria-live="polite">
          {placed.ok
            ? `The marked places lie ${formatLength(placed.value.worst, 'mm')} apart at most when the pictures are laid together.`
            : placed.sentence}
        </p>
      )}
      <p className="tray-note">
        Corners, notches and crossing lines are best. The farther apart they are, the better the pictures lie together.
      </p>
      <PutPictureAway picture={picture} />
    </Tray>
  );
}

/** The move of the last picture onto what is joined so far. */
function placeTogether(picture: PictureDraft): Outcome<Placed> {
  const shift = besideShift(picture);
  const pairs = picture.pairs.flatMap(({ first, second }) =>
    first === null || second === null ? [] : [{ from: { x: second.x - shift.x, y: second.y - shift.y }, to: first }],
  );
  if (pairs.length < 2) {
    return fail('places-too-few', 'Mark two places at least, each on both pictures, as far apart as they go.');
  }
  return placeByPoints(pairs);
}

/** The next place on both pictures, for whoever sets it by keyboard. */
function markInMiddle(picture: PictureDraft): PictureDraft {
  const second = partNow(picture).straight?.flat;
  if (picture.flat === null || second === undefined) return picture;
  const shift = besideShift(picture);
  const middle = (bounds: ReturnType<typeof flatBounds>) => ({
    x: (bounds.minX + bounds.maxX) / 2,
    y: (bounds.minY + bounds.maxY) / 2,
  });
  const there = middle(flatBounds(second));
  const marked = markShared(picture, 'second', { x: there.x + shift.x, y: there.y + shift.y });
  return markShared(marked, 'first', middle(flatBounds(picture.flat)));
}
