import type { LengthUnit } from '../../pattern/garment';
import { formatLength } from '../../units/length';

interface SweepProps {
  readonly label: string;
  readonly before: number;
  readonly after: number;
  readonly unit: LengthUnit;
  /** The longest sweep drawn on this slip, so that all its bars share one scale, mm. */
  readonly longest: number;
}

/** A hem before and after, as two lengths laid under each other at one scale, and how many times wider it is. */
export function Sweep({ label, before, after, unit, longest }: SweepProps) {
  // To the hundredth of a mm an untouched hem is the same hem, and has no before and after.
  const changed = Math.abs(after - before) > 0.01;
  const ratio = changed && before > 0 ? after / before : null;
  return (
    <div className="sweep">
      <div className="sweep-head">
        <span className="quiet">{label}</span>
        {ratio !== null && <span className="quiet">× {ratio.toFixed(2)}</span>}
      </div>
      <p className="sweep-figures">
        {changed && (
          <>
            <span className="unseen">before </span>
            <span className="sweep-before">{formatLength(before, unit)}</span>
            <span aria-hidden="true" className="sweep-arrow">
              →
            </span>
            <span className="unseen"> after </span>
          </>
        )}
        <strong>{formatLength(after, unit)}</strong>
      </p>
      <div className="sweep-bars" aria-hidden="true">
        {changed && <span style={{ width: `${(before / longest) * 100}%` }} />}
        <span style={{ width: `${(after / longest) * 100}%` }} />
      </div>
    </div>
  );
}
