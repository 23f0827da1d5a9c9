import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { Mode } from '../../store/appCommands';
import { TypedField } from './TypedField';
import { useLive } from './useLive';

interface LiveShareProps {
  readonly label: string;
  /** 0 to 1. */
  readonly value: number;
  readonly onFocus?: () => void;
  /** The command behind the field: shows a share while it is typed, keeps it at the end. */
  readonly set: (share: number, mode: Mode) => Outcome<unknown>;
}

/** A share in per cent, wired to a command that can show before it keeps. */
export function LiveShare({ set, ...field }: LiveShareProps) {
  return (
    <TypedField
      {...field}
      {...useLive(set)}
      read={readShare}
      write={(share) => `${Math.round(1000 * share) / 10} %`}
      nudged={(from, direction, large) => {
        const step = large ? 0.1 : 0.01;
        return Math.min(1, Math.max(0, Math.round(from / step + direction) * step));
      }}
    />
  );
}

function readShare(text: string): Outcome<number> {
  const found = /^\s*(\d+(?:[.,]\d+)?)\s*%?\s*$/.exec(text);
  const percent = found === null ? Number.NaN : Number(found[1]!.replace(',', '.'));
  return percent >= 0 && percent <= 100
    ? succeed(percent / 100)
    : fail('share-wrong', 'Give a share from 0 to 100 per cent.');
}
