import { useId } from 'react';

export interface Choice<T extends string> {
  readonly value: T;
  readonly label: string;
  /** What choosing it costs, in one sentence. */
  readonly cost?: string;
}

interface ChoiceGroupProps<T extends string> {
  readonly label: string;
  readonly choices: readonly Choice<T>[];
  readonly value: T;
  readonly onChoose: (value: T) => void;
  readonly labelHidden?: boolean;
  /** `row`: side by side as one switch; `list`: one under another, each with its cost. */
  readonly shape?: 'row' | 'list';
}

/** Real radio buttons, so that arrow keys, readers and forced colours work as everywhere. */
export function ChoiceGroup<T extends string>(props: ChoiceGroupProps<T>) {
  const { label, choices, value, onChoose, labelHidden = false, shape = 'row' } = props;
  const name = useId();
  const chosen = choices.find((choice) => choice.value === value);
  return (
    <fieldset className={`choices choices-${shape}`}>
      <legend className={labelHidden ? 'unseen' : 'field-label'}>{label}</legend>
      <div className="choices-set">
        {choices.map((choice) => (
          <label key={choice.value} className="choice">
            <input
              type="radio"
              name={name}
              value={choice.value}
              checked={choice.value === value}
              onChange={() => onChoose(choice.value)}
            />
            <span>{choice.label}</span>
          </label>
        ))}
      </div>
      {chosen?.cost !== undefined && <p className="choice-cost quiet">{chosen.cost}</p>}
    </fieldset>
  );
}
