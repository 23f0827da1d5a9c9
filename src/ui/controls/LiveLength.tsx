import type { Outcome } from '../../geometry/outcome';
import type { Mode } from '../../store/appCommands';
import { useApp } from '../storeContext';
import { LengthField } from './LengthField';
import { useLive } from './useLive';

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
  const live = useLive(set);
  return <LengthField {...field} {...live} unit={unit} />;
}
