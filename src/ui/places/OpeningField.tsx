import type { SlashLine } from '../../pattern/recipe';
import { LiveAngle } from '../controls/LiveAngle';
import { LiveLength } from '../controls/LiveLength';
import { useCommands } from '../storeContext';

interface OpeningFieldProps {
  readonly label: string;
  readonly labelHidden?: boolean;
  readonly piece: string;
  /** The line whose opening is shown. */
  readonly slash: SlashLine;
  /** Sets every line of the piece, not only this one. */
  readonly all?: boolean;
  readonly onFocus?: () => void;
}

/** How far a slash line opens, typed in the measure it was given in. */
export function OpeningField({ label, labelHidden = false, piece, slash, all = false, onFocus }: OpeningFieldProps) {
  const commands = useCommands();
  const { opening } = slash;
  const shared = { label, labelHidden, ...(onFocus === undefined ? {} : { onFocus }) };
  if (opening.measure === 'angle') {
    return (
      <LiveAngle
        {...shared}
        value={opening.angle}
        set={(angle, mode) => commands.setTurn(piece, all ? null : slash.id, angle, mode)}
      />
    );
  }
  return (
    <LiveLength
      {...shared}
      value={opening.hem}
      set={(length, mode) =>
        all ? commands.setOpeningForAll(piece, length, mode) : commands.setOpening(piece, slash.id, length, mode)
      }
    />
  );
}
