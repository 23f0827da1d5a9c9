import type { SeamReport } from '../../measure/versionReport';
import type { WorkedPiece } from '../../operations/worked';
import type { Garment, LengthUnit } from '../../pattern/garment';
import { findBlock, findEdge } from '../../pattern/lookUp';
import { nameAndSize } from '../../pattern/sizeWords';
import { formatAngle } from '../../units/angle';
import { formatLength } from '../../units/length';
import { Fold } from '../controls/Fold';
import { useOnTable } from '../onTable';
import { DartOpenings } from './DartOpenings';
import { formatArea } from './formatArea';
import { HemFigures } from './HemFigures';
import { SlashTable } from './SlashTable';
import { Sweep } from './Sweep';
import { signedSmallLength, smallLength } from './smallLength';
import { seamVerdict } from './verdict';
import './slip.css';

/** What the work on the table does to the piece and the garment, live. */
export function Slip() {
  const table = useOnTable();
  if (table?.worked === undefined) {
    return (
      <p className="slip-paper slip-bare quiet">
        What a change does is written here, as soon as a piece lies on the table.
      </p>
    );
  }
  const { garment, unit, report, worked, version, fan, trueing } = table;
  const note = version?.note ?? '';
  const origin = version === undefined ? (garment.note ?? '') : '';
  const sweeps = [
    { label: `Hem of ${nameAndSize(worked.block)}`, before: worked.sweepBefore, after: worked.sweepAfter },
    { label: 'Hem of the whole garment', before: report.garmentSweepBefore, after: report.garmentSweepAfter },
  ];
  const longest = Math.max(...sweeps.flatMap(({ before, after }) => [before ?? 0, after ?? 0]), 1);
  return (
    <div className="slip-paper">
      <h2>{version?.name ?? 'The block'}</h2>
      {note !== '' && <p className="slip-note">{note}</p>}
      <section className="slip-part" aria-label="Hem sweep">
        {sweeps.map(({ label, before, after }) =>
          before === null || after === null ? null : (
            <Sweep key={label} label={label} before={before} after={after} unit={unit} longest={longest} />
          ),
        )}
      </section>
      <Warnings worked={worked} />
      {fan !== undefined && <SlashTable worked={worked} step={fan} unit={unit} />}
      <Seams seams={report.seams} garment={garment} unit={unit} />
      <HemFigures worked={worked} step={trueing} unit={unit} />
      <section className="slip-part">
        <dl className="slip-lines">
          <div>
            <dt>Area</dt>
            <dd>
              {worked.fanned !== null && `${formatArea(worked.areaBefore, unit)} → `}
              {formatArea(worked.areaAfter, unit)}
            </dd>
          </div>
          <DartOpenings table={table} worked={worked} />
          {worked.fanned !== null && Math.abs(worked.fanned.centreDrop) > 0.05 && (
            <div>
              <dt>Strips drop at the centre</dt>
              <dd>{smallLength(Math.abs(worked.fanned.centreDrop), unit)}</dd>
            </div>
          )}
          {worked.fanned !== null && worked.fanned.totalTurn !== 0 && (
            <div>
              <dt>Turn at the side seam</dt>
              <dd>{formatAngle(Math.abs(worked.fanned.totalTurn))}</dd>
            </div>
          )}
        </dl>
      </section>
      <EdgeLengths worked={worked} unit={unit} />
      {origin !== '' && (
        <Fold label="About this block">
          <p className="slip-note">{origin}</p>
        </Fold>
      )}
    </div>
  );
}

function Warnings({ worked }: { readonly worked: WorkedPiece }) {
  if (worked.warnings.length === 0) return null;
  return (
    <ul className="slip-warnings" aria-label="To mind">
      {worked.warnings.map((sentence) => (
        <li key={sentence}>
          <span aria-hidden="true" className="slip-sign">
            !
          </span>
          <span>
            <strong>Mind.</strong> {sentence}
          </span>
        </li>
      ))}
    </ul>
  );
}

interface SeamsProps {
  readonly seams: readonly SeamReport[];
  readonly garment: Garment;
  readonly unit: LengthUnit;
}

function Seams({ seams, garment, unit }: SeamsProps) {
  if (seams.length === 0) return null;
  const nameOf = (end: SeamReport['first']) => {
    const piece = findBlock(garment, end.piece);
    return { piece: piece?.name ?? end.piece, edge: (piece && findEdge(piece, end.edge)?.name) ?? end.edge };
  };
  return (
    <section className="slip-part">
      <h3>Seams</h3>
      {seams.map((seam) => {
        const verdict = seamVerdict(seam.verdict);
        const first = nameOf(seam.first);
        const second = nameOf(seam.second);
        return (
          <div key={seam.link} className="seam">
            <p className="seam-head">
              <span>{first.edge}</span>
              <span className={`verdict verdict-${verdict.tone}`}>
                <span aria-hidden="true">{verdict.sign}</span> {verdict.word}
              </span>
            </p>
            <p className="quiet">
              {first.piece} {formatLength(seam.first.length, unit)}, {second.piece}{' '}
              {formatLength(seam.second.length, unit)}
              {verdict.tone !== 'good' && ` (${signedSmallLength(seam.difference, unit)})`}
              {seam.joinedHemCorner !== null && `. Joined hem corner ${formatAngle(seam.joinedHemCorner)}`}
            </p>
          </div>
        );
      })}
    </section>
  );
}

function EdgeLengths({ worked, unit }: { readonly worked: WorkedPiece; readonly unit: LengthUnit }) {
  return (
    <Fold label="Every edge">
      <table className="slip-table">
        <caption className="unseen">Edge lengths before and after</caption>
        <thead>
          <tr>
            <th scope="col">Edge</th>
            <th scope="col">Before</th>
            <th scope="col">After</th>
          </tr>
        </thead>
        <tbody>
          {worked.lengths.map((edge) => (
            <tr key={edge.id}>
              <th scope="row">{edge.name}</th>
              <td>{formatLength(edge.before, unit, { bare: true })}</td>
              <td>{formatLength(edge.after, unit, { bare: true })}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="quiet">in {unit === 'in' ? 'inches' : unit}</p>
    </Fold>
  );
}
