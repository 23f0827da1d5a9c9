import { type FormEvent, useEffect, useState } from 'react';
import type { BringInDraft, DraftScale } from '../../store/bringIn';
import { withStep } from '../../store/draftHistory';
import { parseLength } from '../../units/length';
import { Tray } from '../places/Tray';
import { useActions, useApp, useBringInStore } from '../storeContext';
import { acrossAll } from './acrossAll';
import { type Known, KnownLengthField } from './KnownLengthField';
import { checkScale } from './settleScale';

interface ScaleCheckProps {
  readonly draft: BringInDraft;
  readonly scale: Extract<DraftScale, { kind: 'ask' }>;
  readonly stated: Extract<DraftScale, { kind: 'certain' }>;
}

/** The file states its size; one length the maker knows says whether that is so. */
export function ScaleCheck({ draft, scale, stated }: ScaleCheckProps) {
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { pickTool } = useActions();
  const { actions } = useBringInStore();
  const [known, setKnown] = useState<Known>('line');
  const [typed, setTyped] = useState('');
  const [complaint, setComplaint] = useState<string | null>(null);
  const [isOff, setIsOff] = useState(false);

  useEffect(() => {
    pickTool(known === 'line' ? 'measure' : 'hand');
    return () => pickTool('hand');
  }, [known, pickTool]);

  const drawn = scale.from === null || scale.to === null ? null : { from: scale.from, to: scale.to };
  const ends = known === 'line' ? drawn : acrossAll(draft, known);

  const check = (event: FormEvent) => {
    event.preventDefault();
    const length = parseLength(typed, unit);
    if (!length.ok || ends === null) {
      setComplaint(length.ok ? 'First draw along the line whose length you know.' : length.sentence);
      return;
    }
    const checked = checkScale(draft, { kind: 'points', ...ends, length: length.value });
    if (checked.ok) {
      actions.layDraft(withStep(draft, checked.value, 'the check of a length'));
      return;
    }
    setComplaint(checked.sentence);
    setIsOff(checked.code === 'second-length-off');
  };

  const askAnew = () => {
    const { checks: _, ...asked } = scale;
    const sentence = 'What the file states did not agree with your length, so the scale is yours to give.';
    const anew = { ...draft, outline: null, path: null, corners: [], scale: { ...asked, sentence } };
    actions.layDraft(withStep(draft, anew, 'the question of scale'));
  };

  return (
    <Tray next="Check one length you know: measured on the piece, or printed in the drawing." onward={null}>
      <form className="stack" onSubmit={check}>
        <KnownLengthField
          label="I know the length of"
          known={known}
          drawn={ends !== null}
          typed={typed}
          complaint={complaint}
          onChoose={setKnown}
          onType={(text) => {
            setTyped(text);
            setComplaint(null);
            setIsOff(false);
          }}
        />
        <button type="submit" className="button button-main button-wide">
          Check it
        </button>
      </form>
      {isOff && (
        <button type="button" className="button" onClick={askAnew}>
          Set the scale by a length instead
        </button>
      )}
      <button
        type="button"
        className="button button-plain"
        onClick={() => actions.layDraft({ ...draft, scale: stated })}
      >
        Leave the size as the file states it
      </button>
    </Tray>
  );
}
