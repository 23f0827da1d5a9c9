import type { FannedPiece, OpenedCut, WorkedPiece } from '../operations/worked';

/** What closing darts adds to the hem of a piece, straight across the openings, mm; 0 when none is closed. */
export function fromDarts({ fanned }: WorkedPiece): number {
  return (fanned?.closed?.darts ?? []).reduce((sum, { opening }) => sum + opening, 0);
}

/** The cuts of the fan itself, without those that close darts. */
export function fanCuts({ cuts, closed }: FannedPiece): readonly OpenedCut[] {
  return closed === null ? cuts : cuts.filter((cut) => !closed.cuts.includes(cut));
}
