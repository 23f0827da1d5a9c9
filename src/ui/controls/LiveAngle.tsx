import type { Outcome } from '../../geometry/outcome';
import type { Mode } from '../../store/appCommands';
import { formatAngle, parseAngle } from '../../units/angle';
import { TypedField } from './TypedField';
import { useLive } from './useLive';

interface LiveAngleProps {
  readonly label: string;
  /** Radians. */
  readonly value: number;
  readonly labelHidden?: boolean;
  readonly onFocus?: () => void;
  /** The command behind the field: shows an angle while it is typed, keeps it at the end. */
  readonly set: (angle: number, mode: Mode) => Outcome<unknown>;
}

const degree = Math.PI / 180;

/** An angle in degrees, wired to a command that can show before it keeps. */
export function LiveAngle({ set, ...field }: LiveAngleProps) {
  const live = useLive(set);
  return (
    <TypedField
      {...field}
      {...live}
      read={parseAngle}
      write={(angle) => formatAngle(angle)}
      nudged={(from, direction, large) => {
        const step = (large ? 5 : 0.5) * degree;
        return Math.round(from / step + direction) * step;
      }}
    />
  );
}
