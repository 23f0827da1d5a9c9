import { useId, useMemo } from 'react';
import { edgeParts } from '../../exchange/edgeParts';
import { guessLie, type LieGuess } from '../../exchange/foldInHalf/guessLie';
import type { BringInDraft, DraftLie } from '../../store/bringIn';
import { foldLineOf } from '../../store/foldLine';
import { FoldingInHalf } from './FoldingInHalf';
import { foldOf, unfoldDraft, unfoldedLie, withFold } from './foldDraft';
import { useAxes } from './useAxes';

interface HowItLiesProps {
  readonly draft: BringInDraft;
  readonly guess: LieGuess;
  /** `what` is what taking it back undoes. */
  readonly onChange: (draft: BringInDraft, what: string) => void;
}

const answers: readonly { readonly is: DraftLie['is']; readonly words: string }[] = [
  { is: 'half', words: 'half of it, one edge on the fold' },
  { is: 'both-sides', words: 'all of it, both sides the same' },
  { is: 'as-it-lies', words: 'all of it, cut as it lies' },
];

const noGuess: LieGuess = { is: null, reason: '', axes: [] };

/** What the outline looks like; worked anew only when the outline or what its edges are has changed. */
export function useLieGuess(draft: BringInDraft): LieGuess {
  const { path, corners, lie } = draft;
  const folded = lie?.whole != null;
  const axes = useAxes(draft);
  return useMemo(() => {
    const parts = path === null || folded ? null : edgeParts(path, corners);
    return parts?.ok ? guessLie(corners, parts.value, axes) : noGuess;
  }, [path, corners, folded, axes]);
}

/** What must be said before it can be a piece; null when nothing is open. */
export function saysWhatIsOpen(draft: BringInDraft, guess: LieGuess): string | null {
  const { lie = null } = draft;
  if (lie?.is === 'both-sides' && lie.whole === null) {
    return 'Fold it in half first, or say that it is cut as it lies.';
  }
  if (lie?.is === 'half' && foldOf(draft) === null) return 'Say which edge lies on the fold.';
  return lie === null && guess.is === 'both-sides'
    ? 'Both sides look the same. Say first whether the paper shows all of the piece or half of it.'
    : null;
}

/** How the piece lies on the paper: half of it on the fold, drawn whole with two like sides, or just as it is cut. */
export function HowItLies({ draft, guess, onChange }: HowItLiesProps) {
  const name = useId();
  const { lie = null, corners } = draft;
  const now = lie ?? unfoldedLie;
  if (now.whole !== null) {
    return (
      <section className="field" aria-label="Folded in half">
        {now.said.map((sentence) => (
          <p key={sentence} className="tray-note">
            {sentence}
          </p>
        ))}
        <button type="button" className="button" onClick={() => onChange(unfoldDraft(draft), 'opening it out')}>
          Open it out again
        </button>
      </section>
    );
  }
  const say = (is: DraftLie['is']) => {
    const [best] = guess.axes;
    const line = is === 'both-sides' && best !== undefined ? foldLineOf(best) : null;
    const changed = { ...draft, lie: { ...unfoldedLie, is, line } };
    onChange(is === 'half' ? changed : withFold(changed, null), 'how it lies');
  };
  return (
    <>
      <fieldset className="choices choices-list">
        <legend className="field-label">The paper shows</legend>
        <div className="choices-set">
          {answers.map(({ is, words }) => (
            <label key={is} className="choice">
              <input type="radio" name={name} checked={lie?.is === is} onChange={() => say(is)} />
              <span>{words}</span>
            </label>
          ))}
        </div>
        {lie === null && guess.reason !== '' && <p className="choice-cost quiet">{guess.reason}</p>}
      </fieldset>
      {(lie === null || lie.is === 'half') && (
        <div className="field">
          <label className="field-label" htmlFor={`${name}-fold`}>
            On the fold
          </label>
          <select
            id={`${name}-fold`}
            className="pick"
            value={foldOf(draft) ?? ''}
            onChange={(event) => {
              const fold = event.target.value === '' ? null : Number(event.target.value);
              const said = fold === null ? null : { ...unfoldedLie, is: 'half' as const };
              onChange({ ...withFold(draft, fold), lie: said }, 'the edge on the fold');
            }}
          >
            <option value="">no edge</option>
            {corners.map((corner, index) => (
              <option key={`${corner.segment} ${corner.t}`} value={index}>
                {corner.name}
              </option>
            ))}
          </select>
        </div>
      )}
      {lie?.is === 'both-sides' && <FoldingInHalf draft={draft} lie={lie} axes={guess.axes} onChange={onChange} />}
    </>
  );
}
