import { type FormEvent, useEffect, useId, useState } from 'react';
import type { ScaleAnswer } from '../../exchange/svg/applyScale';
import { noBounds, pathBounds, unionBounds } from '../../geometry/bounds';
import type { Point } from '../../geometry/point';
import type { BringInDraft, DraftScale } from '../../store/bringIn';
import { parseLength } from '../../units/length';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { Tray } from '../places/Tray';
import { useActions, useApp, useBringInStore } from '../storeContext';
import { settleScale } from './settleScale';

type Known = 'line' | 'width' | 'height';

interface ScaleQuestionProps {
  readonly draft: BringInDraft;
  readonly scale: Extract<DraftScale, { kind: 'ask' }>;
}

/** The file does not say how large it is, so the maker does, with one length: nothing is guessed. */
export function ScaleQuestion({ draft, scale }: ScaleQuestionProps) {
  const id = useId();
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { pickTool } = useActions();
  const { actions } = useBringInStore();
  const [known, setKnown] = useState<Known>('line');
  const [typed, setTyped] = useState('');
  const [complaint, setComplaint] = useState<string | null>(null);

  useEffect(() => {
    pickTool(known === 'line' ? 'measure' : 'hand');
    return () => pickTool('hand');
  }, [known, pickTool]);

  const measured = knownPoints(draft, scale, known);

  const answer = (given: ScaleAnswer) => {
    const settled = settleScale(draft, given);
    if (settled.ok) actions.layDraft(settled.value);
    else setComplaint(settled.sentence);
  };

  const settle = (event: FormEvent) => {
    event.preventDefault();
    const length = parseLength(typed, unit);
    if (!length.ok) setComplaint(length.sentence);
    else if (measured === null) setComplaint('First draw along the line whose length you know.');
    else answer({ kind: 'points', ...measured, length: length.value });
  };

  return (
    <Tray next="Give one length you know, and everything comes out at true size." onward={null}>
      <p className="tray-note">{scale.sentence}</p>
      <ChoiceGroup<Known>
        label="I know the length of"
        choices={[
          { value: 'line', label: 'a line' },
          { value: 'width', label: 'whole width' },
          { value: 'height', label: 'height' },
        ]}
        value={known}
        onChoose={setKnown}
      />
      {known === 'line' && (
        <p className="tray-note" aria-live="polite">
          {measured === null
            ? 'Draw along the line on the table, from one end to the other.'
            : 'The line is taken; draw again to take another.'}
        </p>
      )}
      <form className="stack" onSubmit={settle}>
        <div className="field">
          <label className="field-label" htmlFor={id}>
            Its true length, in {unit === 'in' ? 'inches' : unit} unless you write the unit
          </label>
          <input
            id={id}
            className="text-input"
            type="text"
            autoComplete="off"
            value={typed}
            aria-invalid={complaint !== null}
            aria-describedby={complaint === null ? undefined : `${id}-complaint`}
            onChange={(event) => {
              setTyped(event.target.value);
              setComplaint(null);
            }}
          />
          {complaint !== null && (
            <p className="complaint" id={`${id}-complaint`} role="alert">
              <span aria-hidden="true">✕ </span>
              {complaint}
            </p>
          )}
        </div>
        <button type="submit" className="button button-main button-wide">
          Set the scale
        </button>
      </form>
      {scale.suggestions !== undefined && scale.suggestions.length > 0 && (
        <div className="stack">
          <p className="tray-note">Or, if you know how it was made:</p>
          {scale.suggestions.map(({ label }, index) => (
            <button key={label} type="button" className="button" onClick={() => answer({ kind: 'suggestion', index })}>
              {label}
            </button>
          ))}
        </div>
      )}
      <button type="button" className="button button-plain" onClick={() => actions.layDraft(null)}>
        Put this file away
      </button>
    </Tray>
  );
}

/** The two ends of the known thing as it is drawn, in units of the file; null while they are not set. */
function knownPoints(
  draft: BringInDraft,
  scale: ScaleQuestionProps['scale'],
  known: Known,
): { readonly from: Point; readonly to: Point } | null {
  if (known === 'line') return scale.from === null || scale.to === null ? null : { from: scale.from, to: scale.to };
  const { minX, minY, maxX, maxY } = draft.shapes.reduce(
    (all, shape) => unionBounds(all, pathBounds(shape.path)),
    noBounds,
  );
  const from = { x: minX, y: minY };
  return { from, to: known === 'width' ? { x: maxX, y: minY } : { x: minX, y: maxY } };
}
