import { succeed } from '../../../geometry/outcome';
import type { LengthUnit } from '../../../pattern/garment';
import type { Beside } from '../../../store/pictureDraft';
import { formatLength } from '../../../units/length';
import { LengthField } from '../../controls/LengthField';

type Sheet = Exclude<Beside, { kind: 'scan' }>;

interface SideFieldsProps {
  readonly beside: Sheet;
  readonly unit: LengthUnit;
  /** A sheet everyone knows is only turned; of any other the sides are typed. */
  readonly known: { readonly long: number; readonly short: number } | null;
  readonly onChange: (beside: Sheet) => void;
}

/** mm. */
const shortest = 10;
const longest = 5000;

/** The two sides of what lies beside the piece, by the numbers at its corners. */
export function SideFields({ beside, unit, known, onChange }: SideFieldsProps) {
  if (known !== null) {
    return (
      <div className="stack">
        <p className="tray-note">
          {formatLength(beside.width, unit)} from 1 to 2, {formatLength(beside.height, unit)} from 2 to 3.
        </p>
        <button
          type="button"
          className="button"
          onClick={() => onChange({ ...beside, width: beside.height, height: beside.width })}
        >
          Swap the two lengths
        </button>
      </div>
    );
  }
  const side = (label: string, name: 'width' | 'height') => {
    const set = (length: number) => {
      onChange({ ...beside, [name]: length });
      return succeed(null);
    };
    return (
      <LengthField
        label={label}
        unit={unit}
        value={beside[name]}
        least={shortest}
        most={longest}
        onPreview={set}
        onCommit={set}
      />
    );
  };
  return (
    <div className="pair">
      {side('From 1 to 2', 'width')}
      {side('From 2 to 3', 'height')}
    </div>
  );
}
