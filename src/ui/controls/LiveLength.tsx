import type { Outcome } from '../../geometry/outcome';
import type { Mode } from '../../store/appCommands';
import { useActions, useApp } from '../storeContext';
import { LengthField } from './LengthField';

interface LiveLengthProps {
  readonly label: string;
  readonly value: number;
  readonly least?: number;
  readonly most?: number;
  readonly labelHidden?: boolean;
  readonly onFocus?: () => void;
  /** The command behind the field: shows a length while it is typed, keeps it at the end. */
  readonly set: (length: number, mode: Mode) => Outcome<unknown>;
}

/** A length field wired to a command that can show before it keeps. */
export function LiveLength({ set, ...field }: LiveLengthProps) {
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { dropPreview } = useActions();
  return (
    <LengthField
      {...field}
      unit={unit}
      onPreview={(length) => set(length, 'preview')}
      onCommit={(length) => set(length, 'commit')}
      onDrop={dropPreview}
    />
  );
}
