import { type FormEvent, useEffect, useState } from 'react';
import type { KnownLength, ScaleAnswer } from '../../exchange/drawing/applyScale';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { BringInDraft, DraftScale } from '../../store/bringIn';
import { withStep } from '../../store/draftHistory';
import { parseLength } from '../../units/length';
import { Tray } from '../places/Tray';
import { useActions, useApp, useBringInStore } from '../storeContext';
import { acrossAll, type Ends } from './acrossAll';
import { type Known, KnownLengthField } from './KnownLengthField';
import { PutAway } from './PutAway';
import { useWorkshop } from './readerContext';
import { readyDraft } from './readyDraft';
import { settleScale } from './settleScale';

interface ScaleQuestionProps {
  readonly draft: BringInDraft;
  readonly scale: Extract<DraftScale, { kind: 'ask' }>;
}

/** The file does not say how large it is, so the maker does, with one length: nothing is guessed. A second one checks it. */
export function ScaleQuestion({ draft, scale }: ScaleQuestionProps) {
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { pickTool } = useActions();
  const { actions } = useBringInStore();
  const workshop = useWorkshop();
  const [known, setKnown] = useState<Known>('line');
  const [typed, setTyped] = useState('');
  /** The second length; null while none is offered. */
  const [second, setSecond] = useState<{ readonly known: Known; readonly typed: string } | null>(null);
  /** The first line, kept while the second is drawn over it. */
  const [kept, setKept] = useState<Ends | null>(null);
  const [complaint, setComplaint] = useState<{ readonly about: 'first' | 'second'; readonly sentence: string } | null>(
    null,
  );

  const draws = known === 'line' || second?.known === 'line';
  useEffect(() => {
    pickTool(draws ? 'measure' : 'hand');
    return () => pickTool('hand');
  }, [draws, pickTool]);

  const drawn = scale.from === null || scale.to === null ? null : { from: scale.from, to: scale.to };
  const first = known === 'line' ? (kept ?? drawn) : acrossAll(draft, known);
  // Until another line is drawn, the one on the table is still the first.
  const drawnSecond =
    kept !== null && drawn !== null && drawn.from === kept.from && drawn.to === kept.to ? null : drawn;
  const secondEnds = second === null ? null : second.known === 'line' ? drawnSecond : acrossAll(draft, second.known);

  const chooseSecond = (chosen: Known) => {
    if (chosen === 'line') setKept(known === 'line' ? drawn : null);
    else if (kept !== null) {
      // The first line lies on the table again.
      actions.measureScale(kept.from, kept.to);
      setKept(null);
    }
    setSecond({ known: chosen, typed: second?.typed ?? '' });
  };

  const checked = (): Outcome<KnownLength | undefined> => {
    if (second === null || second.typed.trim() === '' || secondEnds === null) return succeed(undefined);
    const length = parseLength(second.typed, unit);
    return length.ok ? succeed({ kind: 'points', ...secondEnds, length: length.value }) : length;
  };

  const answer = (given: ScaleAnswer) => {
    const check = checked();
    if (!check.ok) {
      setComplaint({ about: 'second', sentence: check.sentence });
      return;
    }
    const settled = settleScale(draft, given, check.value);
    if (settled.ok) void join(settled.value);
    else
      setComplaint({ about: /^(second|check)-/.test(settled.code) ? 'second' : 'first', sentence: settled.sentence });
  };

  const join = async (settled: BringInDraft) => {
    const ready = await readyDraft(settled, workshop);
    if (ready.ok) actions.layDraft(withStep(draft, ready.value, 'the scale'));
    else setComplaint({ about: 'first', sentence: ready.sentence });
  };

  const settle = (event: FormEvent) => {
    event.preventDefault();
    const length = parseLength(typed, unit);
    if (!length.ok) setComplaint({ about: 'first', sentence: length.sentence });
    else if (first === null)
      setComplaint({ about: 'first', sentence: 'First draw along the line whose length you know.' });
    else answer({ kind: 'points', ...first, length: length.value });
  };

  return (
    <Tray next="Give one length you know, and everything comes out at true size." onward={null}>
      <p className="tray-note">{scale.sentence}</p>
      <form className="stack" onSubmit={settle}>
        <KnownLengthField
          label="I know the length of"
          known={known}
          drawn={first !== null}
          typed={typed}
          complaint={complaint?.about === 'first' ? complaint.sentence : null}
          onChoose={setKnown}
          onType={(text) => {
            setTyped(text);
            setComplaint(null);
          }}
        />
        {second === null ? (
          <button
            type="button"
            className="button button-plain"
            disabled={first === null}
            onClick={() => {
              setSecond({ known: known === 'height' ? 'width' : 'height', typed: '' });
            }}
          >
            Check with a second length
          </button>
        ) : (
          <KnownLengthField
            label="Check it against"
            known={second.known}
            drawn={secondEnds !== null}
            typed={second.typed}
            complaint={complaint?.about === 'second' ? complaint.sentence : null}
            onChoose={chooseSecond}
            onType={(text) => {
              setSecond({ ...second, typed: text });
              setComplaint(null);
            }}
          />
        )}
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
      <PutAway />
    </Tray>
  );
}
