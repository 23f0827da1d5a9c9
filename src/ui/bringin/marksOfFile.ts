import type { DrawnMark } from '../../exchange/drawing/drawingReading';
import type { PieceAnswers } from '../../exchange/edgeNaming';
import { containsPoint } from '../../geometry/area';
import { nearestOnPath } from '../../geometry/nearest';
import type { Path } from '../../geometry/segment';
import { notchReach } from '../../geometry/tolerance';
import type { BringInDraft } from '../../store/bringIn';

interface FileMarks extends Pick<PieceAnswers, 'grainline' | 'notches' | 'drillHoles'> {
  /** For the maker: what could not be used; null when everything was. */
  readonly leftOut: string | null;
}

/**
 * The marks the file gives with the chosen outline: notches, drill holes, the grainline. A notch set on a cut line is
 * carried to the nearest place on the stitching line; one that lies off the outline is left out and counted.
 */
export function marksOfFile(draft: BringInDraft, drawn: Path, sewn: Path): FileMarks {
  const own = ownMarks(draft, drawn);
  const grain = own.find((mark) => mark.kind === 'grain');
  const notched = own.flatMap((mark) => (mark.kind === 'notch' ? [mark.at] : []));
  const notches = notched.filter((at) => nearestOnPath(drawn, at).distance <= notchReach);
  const off = notched.length - notches.length;
  return {
    grainline: grain === undefined ? 'default' : { start: grain.from, end: grain.to },
    notches: notches.map((at) => ({ at: nearestOnPath(sewn, at).point, style: 'single' as const })),
    drillHoles: own.flatMap((mark) => (mark.kind === 'drill' ? [mark.at] : [])),
    leftOut:
      off === 0
        ? null
        : `${off === 1 ? '1 notch of the file lies' : `${off} notches of the file lie`} off the outline and ${off === 1 ? 'was' : 'were'} left out.`,
  };
}

/** The marks of the file that belong to the chosen outline. */
export function ownMarks(draft: BringInDraft, drawn: Path): readonly DrawnMark[] {
  const chosen = draft.shapes.find(({ id }) => id === draft.outline);
  const lines = new Set([draft.outline, ...(chosen?.from ?? [])]);
  const all = draft.marks ?? [];
  const named = all.filter(({ shape }) => lines.has(shape));
  // A file that draws both lines hangs its marks on one of them; they are meant for the other as well.
  return named.length > 0 ? named : all.filter((mark) => liesOn(mark, drawn));
}

/** Whether a mark lies on or inside an outline. */
function liesOn(mark: DrawnMark, drawn: Path): boolean {
  if (mark.kind === 'grain') return containsPoint(drawn, mark.from) && containsPoint(drawn, mark.to);
  return mark.kind === 'notch' ? nearestOnPath(drawn, mark.at).distance <= notchReach : containsPoint(drawn, mark.at);
}
