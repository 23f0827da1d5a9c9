import { closingsOf } from '../../pattern/closings';
import { findBlock, recipeOf } from '../../pattern/lookUp';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { AppState } from '../../store/appState';
import { shownNow } from '../../store/shown';
import { formatLength } from '../../units/length';
import type { OnTable } from '../onTable';
import { seamVerdict } from '../slip/verdict';
import { partnersOf } from './partners';

/** What the match gave: the side seams of both pieces, walked, and the darts that have no answer on the other piece. */
export function matchedSentence(state: AppState, table: OnTable): string {
  return [seamsWalked(state, table), ...dartsLeft(state, table)].join(' ');
}

function seamsWalked(state: AppState, { block }: OnTable): string {
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

/** What is said of partners on which fewer darts are closed than on the piece they were matched to. */
function dartsLeft({ garment, activeVersion }: AppState, table: OnTable): string[] {
  if (garment === null) return [];
  const closedOn = (piece: string) => closingsOf(recipeOf(garment, activeVersion, piece));
  const { block } = table;
  const closed = closedOn(block.id);
  return partnersOf(table).flatMap(({ id, name }) => {
    const answering = closedOn(id).length;
    if (answering >= closed.length) return [];
    if (answering > 0) {
      return [`Of the ${closed.length} darts closed on ${block.name}, ${answering} could be closed on ${name}.`];
    }
    const held = new Set(closed.map(({ dart }) => block.darts.find((one) => one.id === dart)?.edge));
    const edges = block.edges.filter((edge) => held.has(edge.id)).map((edge) => nameInSentence(edge.name));
    return [
      `${name} has no dart on its ${edges.join(' or ')}, so none is closed there and its hem gets nothing from a dart.`,
    ];
  });
}
