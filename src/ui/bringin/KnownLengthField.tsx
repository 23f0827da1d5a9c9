import { useId } from 'react';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { Complaint } from '../controls/Complaint';
import { useApp } from '../storeContext';

export type Known = 'line' | 'width' | 'height';

interface KnownLengthFieldProps {
  readonly label: string;
  readonly known: Known;
  /** Whether the two ends of it are known on the drawing. */
  readonly drawn: boolean;
  readonly typed: string;
  readonly complaint: string | null;
  readonly onChoose: (known: Known) => void;
  readonly onType: (text: string) => void;
}

/** A length of the drawing that the maker knows: which one, and how long it is in truth. */
export function KnownLengthField(props: KnownLengthFieldProps) {
  const { label, known, drawn, typed, complaint, onChoose, onType } = props;
  const id = useId();
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  return (
    <>
      <ChoiceGroup<Known>
        label={label}
        choices={[
          { value: 'line', label: 'a line' },
          { value: 'width', label: 'whole width' },
          { value: 'height', label: 'height' },
        ]}
        value={known}
        onChoose={onChoose}
      />
      {known === 'line' && (
        <p className="tray-note" aria-live="polite">
          {drawn
            ? 'The line is taken; draw again to take another.'
            : 'Draw along the line on the table, from one end to the other.'}
        </p>
      )}
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
          onChange={(event) => onType(event.target.value)}
        />
        {complaint !== null && <Complaint id={`${id}-complaint`}>{complaint}</Complaint>}
      </div>
    </>
  );
}
