import type { WorkedPiece } from '../../operations/worked';
import type { SlashLine } from '../../pattern/recipe';

/** Straight opening of a slash at the hem, mm, however its step gives it. */
export function chordOf(slash: SlashLine, worked: WorkedPiece | undefined): number {
  if (slash.opening.measure === 'chord') return slash.opening.hem;
  return worked?.fanned?.cuts.find((cut) => cut.id === slash.id)?.chord ?? 0;
}
