import { proposeCorners } from '../../src/exchange/cornerProposal';
import { applyScale } from '../../src/exchange/drawing/applyScale';
import type { DrawingReading } from '../../src/exchange/drawing/drawingReading';
import { joinLoosePaths } from '../../src/exchange/drawing/joinLoosePaths';
import { guessEdges } from '../../src/exchange/edgeGuesses';
import { buildPiece } from '../../src/exchange/edgeNaming';
import { edgeParts } from '../../src/exchange/edgeParts';
import { smoothOutline } from '../../src/exchange/smoothOutline';
import type { Outcome } from '../../src/geometry/outcome';

/** How far a file came on its way to a piece, and what stopped it, if anything said so. */
export interface Carried {
  readonly reached: 'refused' | 'read' | 'joined' | 'piece' | 'no-piece';
  readonly refusal?: Outcome<unknown>;
}

/** Carries what was read of a drawing as far towards a piece as it will go, taking every scale that is offered. */
export function carryToPiece(reading: DrawingReading): Carried {
  const scaled = applyScale(
    reading,
    reading.scale.kind === 'certain' ? { kind: 'stated' } : { kind: 'suggestion', index: 0 },
  );
  if (!scaled.ok) return { reached: 'read', refusal: scaled };
  const outline = joinLoosePaths(scaled.value.shapes).outlines[0];
  if (!outline?.closed) return { reached: 'joined' };
  const smooth = smoothOutline(outline.path, proposeCorners(outline.path));
  const parts = edgeParts(smooth.path, smooth.corners);
  if (!parts.ok) return { reached: 'no-piece', refusal: parts };
  const guesses = guessEdges(parts.value, 'Front');
  const piece = buildPiece({
    id: 'piece-1',
    name: 'Front',
    outline: smooth.path,
    corners: smooth.corners.map((corner, i) => ({ ...corner, ...guesses[i]! })),
    fold: null,
    grainline: 'default',
    notches: [],
    drillHoles: [],
    cutCount: 1,
  });
  return piece.ok ? { reached: 'piece' } : { reached: 'no-piece', refusal: piece };
}
