interface TickProps {
  readonly label: string;
  readonly checked: boolean;
  /** Cannot be wanted now. */
  readonly disabled?: boolean;
  readonly onChange: (checked: boolean) => void;
}

/** One thing that is either wanted or not. */
export function Tick({ label, checked, disabled = false, onChange }: TickProps) {
  return (
    <label className="tick">
      <input
        type="checkbox"
        checked={checked}
        disabled={disabled}
        onChange={(event) => onChange(event.target.checked)}
      />
      <span>{label}</span>
    </label>
  );
}
