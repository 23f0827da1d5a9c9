import { useId, useRef } from 'react';
import { type Outcome, succeed } from '../../geometry/outcome';
import { widestAllowance } from '../../geometry/tolerance';
import type { LengthUnit } from '../../pattern/garment';
import type { BringInDraft, OutlineIs } from '../../store/bringIn';
import { Complaint } from '../controls/Complaint';
import { Fold } from '../controls/Fold';
import { LengthField } from '../controls/LengthField';
import { useApp } from '../storeContext';
import { allowanceOf, usualAllowance } from './allowances';

interface SeamOrCutProps {
  readonly draft: BringInDraft;
  /** Index of the edge on the fold; null for none. */
  readonly fold: number | null;
  /** Why the stitching line cannot be drawn with these widths; null when it can. */
  readonly complaint: string | null;
  /** What to look at on the stitching line that was drawn. */
  readonly notes: readonly string[];
  readonly onChange: Changed;
}

/** The changed draft, and what was done to it; null where it is as it was before, with nothing to take back. */
type Changed = (draft: BringInDraft, what: string | null) => void;

const answers: readonly { readonly is: OutlineIs; readonly words: string }[] = [
  { is: 'stitching-line', words: 'the stitching line' },
  { is: 'cut-line', words: 'the cut line, allowances included' },
];

/** Whether the outline is sewn or cut along; never taken for granted. A cut line is drawn in by its allowances, live. */
export function SeamOrCut({ draft, fold, complaint, notes, onChange }: SeamOrCutProps) {
  const name = useId();
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { outlineIs = null, corners } = draft;
  const typing = useTyping(draft, 'the allowance all round', onChange);
  return (
    <>
      <fieldset className="choices choices-list">
        <legend className="field-label">This outline is</legend>
        <div className="choices-set">
          {answers.map(({ is, words }) => (
            <label key={is} className="choice">
              <input
                type="radio"
                name={name}
                checked={outlineIs === is}
                onChange={() => onChange({ ...draft, outlineIs: is }, 'stitching line or cut line')}
              />
              <span>{words}</span>
            </label>
          ))}
        </div>
      </fieldset>
      {outlineIs === 'cut-line' && (
        <>
          <LengthField
            label="Allowance all round"
            unit={unit}
            value={draft.allowance ?? usualAllowance(unit)}
            least={0}
            most={widestAllowance}
            {...typing((allowance) => ({ ...draft, allowance }))}
          />
          {complaint !== null && <Complaint>{complaint}</Complaint>}
          {notes.map((note) => (
            <p key={note} className="tray-note">
              {note}
            </p>
          ))}
          <Fold label="Edges with another allowance">
            {corners.map((corner, index) => (
              <EdgeAllowance key={`${corner.segment} ${corner.t}`} {...{ draft, index, fold, unit, onChange }} />
            ))}
          </Fold>
        </>
      )}
    </>
  );
}

interface EdgeAllowanceProps {
  readonly draft: BringInDraft;
  readonly index: number;
  readonly fold: number | null;
  readonly unit: LengthUnit;
  readonly onChange: Changed;
}

function EdgeAllowance({ draft, index, fold, unit, onChange }: EdgeAllowanceProps) {
  const corner = draft.corners[index]!;
  const typing = useTyping(draft, `the allowance of edge ${index + 1}`, onChange);
  return (
    <LengthField
      label={`${index + 1}: ${corner.name}${index === fold ? ', on the fold' : ''}`}
      unit={unit}
      value={allowanceOf(draft, index, fold, unit)}
      least={0}
      most={widestAllowance}
      {...typing((allowance) => ({
        ...draft,
        corners: draft.corners.map((other, at) => (at === index ? { ...other, allowance } : other)),
      }))}
    />
  );
}

/** What a width being typed does: it shows at once, and giving it up puts the draft back as it was. */
function useTyping(draft: BringInDraft, what: string, onChange: Changed) {
  const before = useRef(draft);
  return (changed: (width: number) => BringInDraft) => {
    const show = (width: number): Outcome<null> => {
      onChange(changed(width), what);
      return succeed(null);
    };
    return {
      onPreview: show,
      onCommit: show,
      onFocus: () => {
        before.current = draft;
      },
      onDrop: () => onChange(before.current, null),
    };
  };
}
