import { fail, type Outcome } from '../../geometry/outcome';
import { nudgeStep } from '../../gestures/keyboard';
import type { LengthUnit } from '../../pattern/garment';
import { formatLength, parseLength } from '../../units/length';
import { TypedField, type TypedFieldProps } from './TypedField';

export interface LengthFieldProps extends Omit<TypedFieldProps, 'read' | 'write' | 'nudged'> {
  readonly unit: LengthUnit;
  /** Smallest and largest length taken, mm. */
  readonly least?: number | undefined;
  readonly most?: number | undefined;
}

/** A length in mm, typed and shown in the maker's unit: `4 1/2`, `38 mm`, `1,5` are all read. */
export function LengthField({ unit, least, most, ...field }: LengthFieldProps) {
  return (
    <TypedField
      {...field}
      read={(text) => {
        const length = parseLength(text, unit);
        return length.ok ? withinBounds(length.value, least, most, unit) : length;
      }}
      write={(length) => formatLength(length, unit)}
      nudged={(from, direction, large) => {
        const step = nudgeStep(unit, large);
        const moved = Math.round(from / step + direction) * step;
        return Math.min(most ?? moved, Math.max(least ?? moved, moved));
      }}
    />
  );
}

/** Half a micrometre of grace, so that a bound typed as it is shown is taken, mm. */
const grace = 5e-4;

function withinBounds(
  length: number,
  least: number | undefined,
  most: number | undefined,
  unit: LengthUnit,
): Outcome<number> {
  if (least !== undefined && length < least - grace) {
    return fail('length-too-small', `Give at least ${formatLength(least, unit)}.`);
  }
  if (most !== undefined && length > most + grace) {
    return fail('length-too-large', `Give at most ${formatLength(most, unit)}.`);
  }
  return { ok: true, value: length };
}
