import { useCallback, useEffect, useRef, useState } from 'react';
import type { Point } from '../../../geometry/point';
import { turnAbout } from '../../../geometry/rigidMove';
import { type PictureDraft, pagesWaiting, saidOf } from '../../../store/pictureDraft';
import type { OutlineKind } from '../../../workers/photoMessages';
import { ChoiceGroup } from '../../controls/ChoiceGroup';
import { Complaint } from '../../controls/Complaint';
import { Tray } from '../../places/Tray';
import { useActions, useBringInStore } from '../../storeContext';
import { useWorkshop } from '../readerContext';
import { layPage } from './nextPage';
import { addPicture } from './openPicture';
import { PutPictureAway } from './PutPictureAway';
import { useDarkroom } from './photoContext';
import { proposeDraft } from './proposeDraft';
import { turnPicture } from './turnPicture';

const kinds: readonly { readonly value: OutlineKind; readonly label: string }[] = [
  { value: 'edge-of-paper', label: 'the edge of the cut paper' },
  { value: 'drawn-line', label: 'a drawn line' },
];

/** The picture is flat and at true size: which line on it is the piece? */
export function OutlineStep({ picture }: { readonly picture: PictureDraft }) {
  const { pickTool } = useActions();
  const { actions } = useBringInStore();
  const darkroom = useDarkroom();
  const workshop = useWorkshop();
  const [kind, setKind] = useState<OutlineKind>('edge-of-paper');
  const [complaint, setComplaint] = useState<string | null>(null);
  const picker = useRef<HTMLInputElement>(null);
  /** The place last asked about, so that drawing the tray anew asks nothing again. */
  const asked = useRef<Point | null>(picture.inside);

  const propose = useCallback(
    async (inside: Point | null, of: OutlineKind) => {
      setComplaint(null);
      const now = darkroom.bringIn.getState().picture;
      if (now === null) return;
      const proposed = await proposeDraft(now, inside, of, darkroom);
      if (!proposed.ok) {
        setComplaint(proposed.sentence);
        return;
      }
      // Whoever has gone back meanwhile is not fetched forward again.
      if (darkroom.bringIn.getState().picture?.stage !== 'outline') return;
      const { actions: lay } = darkroom.bringIn;
      // What is asked next about the same picture starts from how it lies now.
      asked.current = proposed.value.picture.inside;
      lay.changePicture(() => proposed.value.picture);
      lay.layDraft(proposed.value.draft);
    },
    [darkroom],
  );

  const turnQuarter = async () => {
    const now = darkroom.bringIn.getState().picture;
    if (now === null) return;
    const turned = await turnPicture(now, turnAbout({ x: 0, y: 0 }, Math.PI / 2), darkroom);
    if (!turned.ok) {
      setComplaint(turned.sentence);
      return;
    }
    asked.current = turned.value.inside;
    actions.changePicture(() => turned.value);
  };

  const [nextPage] = pagesWaiting(picture);
  const addPage = async (page: number) => {
    const laid = await layPage(picture, page, 'further', darkroom, workshop);
    if (!laid.ok) setComplaint(laid.sentence);
  };

  const { inside } = picture;
  useEffect(() => {
    if (inside === null || inside === asked.current) return;
    asked.current = inside;
    void propose(inside, kind);
  }, [inside, kind, propose]);

  return (
    <Tray next="Say what the outline is, then press inside the piece on the table." onward={null}>
      <ChoiceGroup<OutlineKind>
        label="The outline is"
        shape="list"
        choices={kinds}
        value={kind}
        onChoose={(chosen) => {
          setKind(chosen);
          setComplaint(null);
        }}
      />
      {complaint !== null && (
        <>
          <Complaint>{complaint}</Complaint>
          <p className="tray-note">Or trace it by hand: the pen keeps to the lines it sees.</p>
        </>
      )}
      <div className="stack">
        <button type="button" className="button button-main button-wide" onClick={() => void propose(null, kind)}>
          Look for the piece
        </button>
        <button type="button" className="button button-wide" onClick={() => pickTool('pen')}>
          Trace it by hand
        </button>
        <button type="button" className="button button-wide" onClick={() => void turnQuarter()}>
          Turn the picture a quarter
        </button>
        {nextPage !== undefined && (
          <button type="button" className="button button-wide" onClick={() => void addPage(nextPage)}>
            Add page {nextPage} of this file
          </button>
        )}
        <button type="button" className="button button-wide" onClick={() => picker.current?.click()}>
          Add another picture of this piece
        </button>
      </div>
      <p className="tray-note">
        Stand the piece as it hangs when worn, and its edges are guessed better. A further picture must show two marks
        of the piece at least that the others show.
      </p>
      <input
        ref={picker}
        type="file"
        hidden
        accept="image/*"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file === undefined) return;
          void addPicture(file, darkroom).then((added) => {
            if (!added.ok) setComplaint(added.sentence);
          });
        }}
      />
      {saidOf(picture).map((sentence) => (
        <p key={sentence} className="tray-note">
          {sentence}
        </p>
      ))}
      <button
        type="button"
        className="button"
        onClick={() =>
          actions.changePicture((now) => ({
            ...now,
            stage: now.parts.length > 1 ? 'join' : 'check',
            inside: null,
            chosen: null,
            pairs: [],
          }))
        }
      >
        {picture.parts.length > 1 ? 'Back to the shared places' : 'Back to the second length'}
      </button>
      <PutPictureAway picture={picture} />
    </Tray>
  );
}
