import { panelTurn } from '../operations/fanClosed';
import type { WorkedPiece } from '../operations/worked';

/** How far one strip was turned from the grain of the block. */
export interface StripTurn {
  /** 1 for the strip at the centre line. */
  readonly strip: number;
  /** Degrees, 0 or more. */
  readonly degrees: number;
}

/**
 * Turn of every strip along the hem, from the centre line to the side. The part that carries the grainline does not
 * turn, so this is what the grain of the cloth turns by on each strip. Empty for a piece that was not fanned.
 */
export function grainTurns({ fanned, piece }: WorkedPiece): StripTurn[] {
  if (fanned === null) return [];
  const at = fanned.edges.findIndex(({ role }) => role === 'hem');
  const hem = fanned.edges[at];
  if (hem === undefined) return [];
  const panels = [...new Set(hem.segments.flatMap(({ origin }) => (origin.kind === 'own' ? [origin.panel] : [])))];
  const next = piece.edges[(at + 1) % piece.edges.length]!;
  if (next.role === 'centre-front' || next.role === 'centre-back') panels.reverse();
  return panels.map((panel, index) => {
    return { strip: index + 1, degrees: (Math.abs(panelTurn(fanned, panel)) * 180) / Math.PI };
  });
}
