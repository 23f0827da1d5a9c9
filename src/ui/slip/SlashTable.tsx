import { grainBeyond } from '../../measure/grainBeyond';
import type { WorkedPiece } from '../../operations/worked';
import type { LengthUnit } from '../../pattern/garment';
import type { FanStep } from '../../pattern/recipe';
import { formatLength } from '../../units/length';
import { slashCuts } from './slashCuts';

interface SlashTableProps {
  readonly worked: WorkedPiece;
  readonly step: FanStep;
  readonly unit: LengthUnit;
}

/** Each slash with its opening at the hem, and how far the strip on its side-seam side has turned off the grain. */
export function SlashTable({ worked, step, unit }: SlashTableProps) {
  const { fanned } = worked;
  const cuts = fanned === null ? [] : slashCuts(fanned, step);
  if (fanned === null || cuts.length === 0) return null;
  return (
    <section className="slip-part">
      <table className="slip-table">
        <caption className="unseen">Slash lines from the centre line to the side</caption>
        <thead>
          <tr>
            <th scope="col">Slash</th>
            <th scope="col">Opening</th>
            <th scope="col">Grain beyond</th>
          </tr>
        </thead>
        <tbody>
          {cuts.map((cut, index) => (
            <tr key={cut.id}>
              <th scope="row">{index + 1}</th>
              <td>{formatLength(cut.chord, unit)}</td>
              <td>{`${((grainBeyond(fanned, step, cut) * 180) / Math.PI).toFixed(1)}°`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
