import { type ChangeEvent, type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import type { Outcome } from '../../geometry/outcome';
import { Complaint } from './Complaint';

export interface TypedFieldProps {
  readonly label: string;
  /** The committed value, in the model's unit. */
  readonly value: number;
  readonly read: (text: string) => Outcome<number>;
  readonly write: (value: number) => string;
  /** The value one arrow key press away; `large` with Shift. */
  readonly nudged: (from: number, direction: 1 | -1, large: boolean) => number;
  /** Called with every readable value typed, before it is kept. A failure is shown under the field. */
  readonly onPreview?: ((value: number) => Outcome<unknown>) | undefined;
  /** Keeps the value. A failure is shown under the field and the typed text stays. */
  readonly onCommit: (value: number) => Outcome<unknown>;
  /** The typed text was given up (Escape, or it could not be read). */
  readonly onDrop?: (() => void) | undefined;
  /** Hides the label from sight, not from readers, where a column heading says it already. */
  readonly labelHidden?: boolean | undefined;
  readonly onFocus?: (() => void) | undefined;
}

/**
 * A measure that is typed as the maker says it. What is typed shows at once on the table; Enter or leaving the field
 * keeps it, Escape puts the old one back, the arrow keys nudge it. Text that cannot be read stays as typed, with a
 * sentence about it. The label stays as it was when the typing began, though what shows meanwhile may change it.
 */
export function TypedField(props: TypedFieldProps) {
  const { value, read, write, onPreview, onCommit, onDrop } = props;
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [complaint, setComplaint] = useState<string | null>(null);
  const [label, setLabel] = useState(props.label);
  const complaintLine = useRef<HTMLParagraphElement>(null);
  // Leaving the field after Enter or Escape must not keep the text a second time.
  const settled = useRef(true);

  if (typed === null && label !== props.label) setLabel(props.label);

  useEffect(() => {
    if (complaint !== null) complaintLine.current?.scrollIntoView({ block: 'nearest' });
  }, [complaint]);

  const show = (text: string) => {
    settled.current = false;
    setTyped(text);
    const given = read(text);
    if (!given.ok) {
      // A half-typed fraction is no mistake yet; the complaint waits until the text is kept.
      setComplaint(null);
      onDrop?.();
      return;
    }
    const shown = onPreview?.(given.value);
    setComplaint(shown !== undefined && !shown.ok ? shown.sentence : null);
  };

  const keep = () => {
    if (settled.current || typed === null) return;
    const given = read(typed);
    if (!given.ok) {
      setComplaint(given.sentence);
      onDrop?.();
      return;
    }
    const kept = onCommit(given.value);
    if (!kept.ok) {
      setComplaint(kept.sentence);
      return;
    }
    settled.current = true;
    setTyped(null);
    setComplaint(null);
  };

  const giveUp = () => {
    settled.current = true;
    setTyped(null);
    setComplaint(null);
    onDrop?.();
  };

  const nudge = (event: KeyboardEvent, direction: 1 | -1) => {
    event.preventDefault();
    const from = typed === null ? null : read(typed);
    show(write(props.nudged(from?.ok ? from.value : value, direction, event.shiftKey)));
  };

  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'Enter') keep();
    else if (event.key === 'Escape' && typed !== null) {
      event.stopPropagation();
      giveUp();
    } else if (event.key === 'ArrowUp') nudge(event, 1);
    else if (event.key === 'ArrowDown') nudge(event, -1);
  };

  return (
    <div className="field">
      <label className={props.labelHidden ? 'unseen' : 'field-label'} htmlFor={id}>
        {label}
      </label>
      <input
        id={id}
        className="length-input"
        data-typing={typed !== null}
        type="text"
        autoComplete="off"
        spellCheck={false}
        value={typed ?? write(value)}
        aria-invalid={complaint !== null}
        aria-describedby={complaint === null ? undefined : `${id}-complaint`}
        onChange={(event: ChangeEvent<HTMLInputElement>) => show(event.target.value)}
        onKeyDown={onKeyDown}
        onBlur={keep}
        onFocus={(event) => {
          event.target.select();
          props.onFocus?.();
        }}
      />
      {complaint !== null && (
        <Complaint ref={complaintLine} id={`${id}-complaint`}>
          {complaint}
        </Complaint>
      )}
    </div>
  );
}
