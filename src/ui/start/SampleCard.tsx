import { useMemo } from 'react';
import { pathBounds, unionBounds } from '../../geometry/bounds';
import { defaultFan } from '../../operations/fan';
import { workPiece } from '../../operations/recipe';
import { defaultTrue } from '../../operations/true';
import type { Garment } from '../../pattern/garment';
import type { Piece } from '../../pattern/piece';
import { outlineData } from '../outlineSvg';
import type { Sample } from './samples';

interface SampleCardProps {
  readonly sample: Sample;
  /** The sample itself once it has been read. */
  readonly garment: Garment | null;
  readonly onPick: () => void;
}

/** A sample as it is, laid over what a fan would make of it: the whole trade in one small drawing. */
export function SampleCard({ sample, garment, onPick }: SampleCardProps) {
  const figure = useMemo(() => (garment === null ? null : drawFigure(garment)), [garment]);
  return (
    <button type="button" className="sample" onClick={onPick}>
      <span className="sample-figure">
        {figure !== null && (
          <svg viewBox={figure.viewBox} aria-hidden="true" focusable="false">
            {figure.fanned !== null && (
              <path className="sample-fanned" d={outlineData(figure.fanned)} vectorEffect="non-scaling-stroke" />
            )}
            <path className="sample-block" d={outlineData(figure.block)} vectorEffect="non-scaling-stroke" />
          </svg>
        )}
      </span>
      <span className="sample-words">
        <strong>{sample.name}</strong>
        <span className="quiet">{sample.about}</span>
      </span>
    </button>
  );
}

interface Figure {
  readonly block: Piece;
  readonly fanned: Piece | null;
  readonly viewBox: string;
}

function drawFigure(garment: Garment): Figure | null {
  const block = garment.blocks[0];
  if (block === undefined) return null;
  const step = defaultFan(block);
  const worked = step.ok ? workPiece(block, [step.value, defaultTrue()]) : step;
  const fanned = worked.ok ? worked.value.piece : null;
  const pieces = fanned === null ? [block] : [block, fanned];
  const bounds = pieces
    .map((piece) => pathBounds(piece.edges.flatMap((edge) => edge.path)))
    .reduce((all, one) => unionBounds(all, one));
  const margin = 6;
  const viewBox = [
    bounds.minX - margin,
    bounds.minY - margin,
    bounds.maxX - bounds.minX + 2 * margin,
    bounds.maxY - bounds.minY + 2 * margin,
  ].join(' ');
  return { block, fanned, viewBox };
}
