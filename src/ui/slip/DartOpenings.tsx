import { fromDarts } from '../../measure/fromDarts';
import type { WorkedPiece } from '../../operations/worked';
import { nameAndSize } from '../../pattern/sizeWords';
import { formatLength } from '../../units/length';
import type { OnTable } from '../onTable';
import { partnersOf } from '../places/partners';

/**
 * What closed darts open at the hem, of this piece and of each sewn to its side: the same share of a dart need not open
 * the same. Nothing where no dart of them is closed.
 */
export function DartOpenings({ table, worked }: { readonly table: OnTable; readonly worked: WorkedPiece }) {
  const { report, unit } = table;
  const partners = partnersOf(table).flatMap(({ id }) => report.pieces.filter(({ block }) => block.id === id));
  if ([worked, ...partners].every((piece) => fromDarts(piece) === 0)) return null;
  const said = (piece: WorkedPiece) => (fromDarts(piece) > 0 ? formatLength(fromDarts(piece), unit) : 'no dart closed');
  return (
    <>
      <div>
        <dt>Opening from darts</dt>
        <dd>{said(worked)}</dd>
      </div>
      {partners.map((partner) => (
        <div key={partner.block.id}>
          <dt>On {nameAndSize(partner.block)}</dt>
          <dd>{said(partner)}</dd>
        </div>
      ))}
    </>
  );
}
