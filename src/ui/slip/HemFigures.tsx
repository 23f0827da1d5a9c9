import { Fragment } from 'react';
import { keptLength } from '../../geometry/tolerance';
import type { WorkedPiece } from '../../operations/worked';
import type { LengthUnit } from '../../pattern/garment';
import { findEdge } from '../../pattern/lookUp';
import type { TrueStep } from '../../pattern/recipe';
import { formatAngle } from '../../units/angle';
import { signedSmallLength, smallLength } from './smallLength';
import { cornerVerdict } from './verdict';

interface HemFiguresProps {
  readonly worked: WorkedPiece;
  readonly step: TrueStep | undefined;
  readonly unit: LengthUnit;
}

/** How the trued hem lies: squareness of its ends, how far it strays from the strips, what was added, how it curves. */
export function HemFigures({ worked, step, unit }: HemFiguresProps) {
  const report = worked.trued;
  if (report === null) return null;
  const corners = [
    { name: 'Centre corner', angle: report.cornerCentre },
    { name: 'Side corner', angle: report.cornerSide },
  ];
  return (
    <section className="slip-part">
      <h3>Trued hem</h3>
      <dl className="slip-lines">
        {corners.map(({ name, angle }) => {
          const verdict = cornerVerdict(angle, Math.PI / 2);
          return (
            <div key={name}>
              <dt>{name}</dt>
              <dd>
                {formatAngle(angle)}{' '}
                <span className={`verdict verdict-${verdict.tone}`}>
                  <span aria-hidden="true">{verdict.sign}</span> {verdict.word}
                </span>
              </dd>
            </div>
          );
        })}
        <div>
          <dt>Strays from the strips</dt>
          <dd>{smallLength(report.hemDeviationStrips, unit)}</dd>
        </div>
        {step !== undefined && (step.hem.drop.centre !== 0 || step.hem.drop.side !== 0) && (
          <div>
            <dt>Added, centre and side</dt>
            <dd>
              {signedSmallLength(step.hem.drop.centre, unit)}, {signedSmallLength(step.hem.drop.side, unit)}
            </dd>
          </div>
        )}
        <div>
          <dt>Side given back at the hem</dt>
          <dd>{signedSmallLength(report.blendLoss, unit)}</dd>
        </div>
        {report.centreFillAtHem !== 0 && (
          <div>
            <dt>Filled down the centre</dt>
            <dd>{signedSmallLength(report.centreFillAtHem, unit)}</dd>
          </div>
        )}
        {report.smoothed.map(({ edge, moved, longer }) => (
          <Fragment key={edge}>
            <div>
              <dt>{findEdge(worked.block, edge)?.name} redrawn, moves</dt>
              <dd>{smallLength(moved, unit)}</dd>
            </div>
            <div>
              <dt>{findEdge(worked.block, edge)?.name} redrawn, length</dt>
              <dd>{Math.abs(longer) < keptLength ? 'kept' : signedSmallLength(longer, unit)}</dd>
            </div>
          </Fragment>
        ))}
        <div>
          <dt>Hem bends the other way</dt>
          <dd>{report.curvatureSignChanges === 0 ? 'never' : times(report.curvatureSignChanges)}</dd>
        </div>
      </dl>
    </section>
  );
}

function times(count: number): string {
  return count === 1 ? 'once' : `${count} times`;
}
