import { findBlock } from '../../pattern/lookUp';
import type { AppState } from '../../store/appState';
import { shownNow } from '../../store/shown';
import { formatLength } from '../../units/length';
import type { OnTable } from '../onTable';
import { seamVerdict } from '../slip/verdict';

/** What the match gave: the side seams of both pieces, walked. */
export function matchedSentence(state: AppState, { block }: OnTable): string {
  const shown = shownNow(state);
  const seams = shown?.report.seams ?? [];
  const seam = seams.find(
    ({ first, second, joinedHemCorner }) =>
      joinedHemCorner !== null && (first.piece === block.id || second.piece === block.id),
  );
  if (shown === null || seam === undefined) return 'The other piece is swung open the same way.';
  const ends = [seam.first, seam.second].map(
    (end) => `${findBlock(shown.garment, end.piece)?.name ?? ''} ${formatLength(end.length, shown.garment.unit)}`,
  );
  return `Side seams ${ends.join(', ')}: ${seamVerdict(seam.verdict).word.toLowerCase()}.`;
}
