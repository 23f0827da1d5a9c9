import { type FormEvent, useEffect, useId, useMemo, useState } from 'react';
import { stayPut } from '../../../geometry/rigidMove';
import { type PictureDraft, partNow, type Tape, withPart } from '../../../store/pictureDraft';
import { formatLength, parseLength } from '../../../units/length';
import { Complaint } from '../../controls/Complaint';
import { Tray } from '../../places/Tray';
import { useActions, useApp, useBringInStore } from '../../storeContext';
import { ToolButton } from '../ToolButton';
import { besideSentence } from './beside';
import { checkTape } from './checkTape';
import { farError } from './farError';
import { PutPictureAway } from './PutPictureAway';

/** The picture lies flat at true size: a second length the maker knows proves it, or shows that something is wrong. */
export function CheckStep({ picture }: { readonly picture: PictureDraft }) {
  const id = useId();
  const part = partNow(picture);
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const tool = useApp((state) => state.tool);
  const { pickTool } = useActions();
  const { actions } = useBringInStore();
  const [typed, setTyped] = useState('');
  const [refused, setRefused] = useState<{ readonly tape: Tape | null; readonly sentence: string } | null>(null);
  const { straight } = part;
  const { tape } = picture;
  // Once the length is laid anew, the last refusal says nothing any more.
  const complaint = refused !== null && refused.tape === tape ? refused.sentence : null;
  const setComplaint = (sentence: string | null) => setRefused(sentence === null ? null : { tape, sentence });
  const far = useMemo(() => (straight === null ? null : farError(straight)), [straight]);

  useEffect(() => {
    pickTool('measure');
    return () => pickTool('hand');
  }, [pickTool]);

  if (straight === null) return null;
  const { checks, straightened } = straight;
  const isScan = straight.reference.kind === 'scan';

  const check = (event: FormEvent) => {
    event.preventDefault();
    const length = parseLength(typed, unit);
    if (!length.ok) {
      setComplaint(length.sentence);
      return;
    }
    if (tape === null) {
      setComplaint('First lay the length on the table: drag from one end to the other.');
      return;
    }
    const checked = checkTape(part, tape, length.value);
    if (!checked.ok) {
      setComplaint(checked.sentence);
      return;
    }
    setComplaint(null);
    setTyped('');
    actions.changePicture((now) => ({
      ...withPart(now, (same) => ({ ...same, straight: { ...straight, checks: [...checks, checked.value] } })),
      tape: null,
      chosen: null,
    }));
  };

  const goOn = () => {
    setComplaint(null);
    actions.changePicture((now) => {
      const checked = { ...now, tape: null, chosen: null };
      if (now.parts.length > 1) return { ...checked, stage: 'join', pairs: [] };
      // It lies as it was straightened, however it may have been turned before.
      const lying = withPart(checked, (same) => ({ ...same, straight: { ...straight, move: stayPut } }));
      return { ...lying, stage: 'outline', flat: straight.flat, inside: null };
    });
  };
  const back = () => actions.changePicture((now) => ({ ...now, stage: 'corners', tape: null, chosen: null }));

  return (
    <Tray
      next={
        checks.length > 0
          ? isScan && checks.length === 1
            ? 'That agrees. Check a length the other way too, or go on.'
            : 'That agrees. Go on to the outline.'
          : 'Measure a second length you know on the table, and type how long it is.'
      }
      onward={
        checks.length > 0 ? (
          <button type="button" className="button button-main button-wide" onClick={goOn}>
            Go on
          </button>
        ) : (
          <button type="button" className="button button-wide" onClick={goOn}>
            Go on without a check
          </button>
        )
      }
    >
      <form className="stack" onSubmit={check}>
        <div className="tool-row">
          <ToolButton tool="measure" now={tool} label="Lay the length" />
          <ToolButton tool="hand" now={tool} label="Move about" />
        </div>
        <button
          type="button"
          className="button button-plain"
          onClick={() => {
            actions.changePicture(layTapeInMiddle);
          }}
        >
          Lay it in the middle, to be moved by keys
        </button>
        <p className="tray-note" aria-live="polite">
          {tape === null
            ? 'Drag from one end to the other. The longest you can measure says most, best across the piece.'
            : 'The length lies on the table; drag its ends, or press Tab there and use the arrow keys.'}
        </p>
        <div className="field">
          <label className="field-label" htmlFor={id}>
            Its true length, in {unit === 'in' ? 'inches' : unit}
          </label>
          <input
            id={id}
            className="text-input"
            type="text"
            autoComplete="off"
            value={typed}
            placeholder="or with its unit: 26 cm"
            aria-invalid={complaint !== null}
            aria-describedby={complaint === null ? undefined : `${id}-complaint`}
            onChange={(event) => {
              setTyped(event.target.value);
              setComplaint(null);
            }}
          />
          {complaint !== null && <Complaint id={`${id}-complaint`}>{complaint}</Complaint>}
        </div>
        <button type="submit" className={`button button-wide ${checks.length === 0 ? 'button-main' : ''}`}>
          Check it
        </button>
      </form>
      {checks.map((sentence) => (
        <p key={sentence} className="tray-note">
          ✓ {sentence}
        </p>
      ))}
      <button type="button" className="button" onClick={back}>
        {isScan ? 'Back to the resolution' : 'Back to the corners'}
      </button>
      <p className="tray-note">{besideSentence(part)}</p>
      {straightened.notes.map((note) => (
        <p key={note} className="tray-note">
          {note}
        </p>
      ))}
      {far !== null && Number.isFinite(far) && (
        <p className="tray-note">
          At the farthest place shown, expect to be off by up to {formatLength(far, 'mm')}; near the sheet by less.
        </p>
      )}
      <PutPictureAway picture={picture} />
    </Tray>
  );
}

/** A length across the middle half of the picture, for whoever sets it by keyboard. */
function layTapeInMiddle(picture: PictureDraft): PictureDraft {
  const flat = partNow(picture).straight?.flat;
  if (flat === undefined) return picture;
  const { origin, width, height, dotsPerMm } = flat;
  const at = (share: number) => ({
    x: origin.x + (share * width) / dotsPerMm,
    y: origin.y + height / 2 / dotsPerMm,
  });
  return { ...picture, tape: { from: at(0.25), to: at(0.75) }, chosen: 'tape-from' };
}
