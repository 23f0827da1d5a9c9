import { useId, useState } from 'react';
import { useCountDrag } from './useCountDrag';

interface CountStepperProps {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  /** Shows a count while it is dragged, where that can be shown. */
  readonly onPreview?: (count: number) => void;
  readonly onCommit: (count: number) => void;
  /** Takes back what was shown. */
  readonly onDrop?: () => void;
}

/** A whole number with a step down and a step up, also typed, or dragged sideways on its digits. */
export function CountStepper({ label, value, least, most, onPreview, onCommit, onDrop }: CountStepperProps) {
  const id = useId();
  const { dragged, handlers } = useCountDrag({ value, least, most, onPreview, onCommit, onDrop });
  const [typed, setTyped] = useState<string | null>(null);

  const keep = () => {
    if (typed === null) return;
    const count = Number(typed);
    setTyped(null);
    if (Number.isInteger(count) && count >= least && count <= most && count !== value) onCommit(count);
  };
  const step = (by: number) => {
    const count = Math.min(most, Math.max(least, value + by));
    if (count !== value) onCommit(count);
  };

  return (
    <div className="field field-count">
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <div className="stepper">
        <button type="button" aria-label={`Fewer: ${label}`} disabled={value <= least} onClick={() => step(-1)}>
          −
        </button>
        <input
          id={id}
          type="text"
          inputMode="numeric"
          role="spinbutton"
          autoComplete="off"
          aria-valuenow={value}
          aria-valuemin={least}
          aria-valuemax={most}
          title="Type it, drag it sideways, or use the arrow keys"
          value={typed ?? String(dragged ?? value)}
          {...handlers}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={keep}
          onFocus={(event) => event.target.select()}
          onKeyDown={(event) => {
            if (event.key === 'Enter') keep();
            else if (event.key === 'Escape') setTyped(null);
            else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
              event.preventDefault();
              setTyped(null);
              step(event.key === 'ArrowUp' ? 1 : -1);
            }
          }}
        />
        <button type="button" aria-label={`More: ${label}`} disabled={value >= most} onClick={() => step(1)}>
          +
        </button>
      </div>
    </div>
  );
}
