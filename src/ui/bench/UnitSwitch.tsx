import type { LengthUnit } from '../../pattern/garment';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { useApp, useCommands } from '../storeContext';

const units: readonly { readonly value: LengthUnit; readonly label: string }[] = [
  { value: 'cm', label: 'cm' },
  { value: 'mm', label: 'mm' },
  { value: 'in', label: 'in' },
];

/** In what unit lengths are shown and a bare number is read; a typed unit always wins. */
export function UnitSwitch() {
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { setUnit } = useCommands();
  return <ChoiceGroup label="Show lengths in" labelHidden choices={units} value={unit} onChoose={setUnit} />;
}
