import { guessEdges } from '../../exchange/edgeGuesses';
import { edgeParts } from '../../exchange/edgeParts';
import { foldInHalf } from '../../exchange/foldInHalf/foldInHalf';
import { foldMarks } from '../../exchange/foldInHalf/foldMarks';
import type { FoldEnd } from '../../exchange/foldInHalf/squareAtFold';
import { lineThrough } from '../../geometry/mirror';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { movePath, type RigidMove, turnAbout } from '../../geometry/rigidMove';
import type { Path } from '../../geometry/segment';
import type { BringInDraft, DraftCorner, DraftLie } from '../../store/bringIn';
import { ownMarks } from './marksOfFile';

export const unfoldedLie: DraftLie = { is: 'as-it-lies', line: null, kept: 'mean', whole: null, said: [] };

/** Index of the edge on the fold; null for none. */
export function foldOf({ corners }: Pick<BringInDraft, 'corners'>): number | null {
  const fold = corners.findIndex(({ onFold }) => onFold === true);
  return fold < 0 ? null : fold;
}

/** The draft with one edge on the fold, or none. */
export function withFold(draft: BringInDraft, fold: number | null): BringInDraft {
  const corners = draft.corners.map(
    ({ onFold: _, ...corner }, index): DraftCorner => (index === fold ? { ...corner, onFold: true } : corner),
  );
  return { ...draft, corners };
}

/** Draws half of a piece that lies whole; its edges keep the names the maker gave, and guesses are made anew. */
export function foldDraft(draft: BringInDraft): Outcome<BringInDraft> {
  const { path, lie, corners } = draft;
  const line = lie?.line ?? null;
  const mirror = line === null ? null : lineThrough(line.from, line.to);
  if (path === null || lie == null || line === null || mirror === null) {
    return fail('fold-unknown', 'Say first where the piece is folded.');
  }
  const back = /(?:^|[^a-z])(?:back|rear|cb)(?:[^a-z]|$)/i.test(draft.name);
  const folded = foldInHalf({
    outline: path,
    corners: withoutGuesses(path, corners, draft.name),
    mirror,
    kept: lie.kept,
    meanOn: 'minus',
    foldEdge: back ? { role: 'centre-back', name: 'Centre back' } : { role: 'centre-front', name: 'Centre front' },
  });
  if (!folded.ok) return folded;
  const half = folded.value;
  const sign = lie.kept === 'plus' ? 1 : -1;
  const marks = foldMarks(ownMarks(draft, path), mirror, sign, lie.kept === 'mean' ? 'mean' : 'one');
  const said = [
    `Folded in half; opened out again it leaves the paper by ${half.deviation.toFixed(1)} mm at most.`,
    ...half.ends.flatMap(saysOfEnd),
    ...(half.loneCorners > 0
      ? [`${half.loneCorners} ${half.loneCorners === 1 ? 'corner was' : 'corners were'} marked on one side only.`]
      : []),
    ...marks.notes,
  ];
  const { marks: before, ...rest } = draft;
  return succeed({
    ...rest,
    path: half.outline,
    corners: namedAnew(half.outline, half.corners, half.fold, draft.name),
    marks: marks.marks,
    node: null,
    doubtful: [],
    lie: { ...lie, whole: { path, corners, ...(before === undefined ? {} : { marks: before }) }, said },
  });
}

/** The piece whole again, as it lay before it was folded. */
export function unfoldDraft(draft: BringInDraft): BringInDraft {
  const { lie } = draft;
  if (lie?.whole == null) return draft;
  const { marks: _, ...rest } = draft;
  return { ...rest, ...lie.whole, node: null, lie: { ...lie, whole: null, said: [] } };
}

function saysOfEnd({ off, drawn }: FoldEnd): string[] {
  const degrees = (off * 180) / Math.PI;
  return drawn === 'kept' && degrees > 0.1
    ? [
        `An edge comes in at the fold ${degrees.toFixed(1)}° off square, as on the paper; opened out it has a point there.`,
      ]
    : [];
}

const unnamed = { name: 'Edge', role: 'other' } as const;

/** Names that were only guessed of the whole piece say little of its half. */
function withoutGuesses(path: Path, corners: readonly DraftCorner[], name: string): readonly DraftCorner[] {
  const parts = edgeParts(path, corners);
  const guesses = parts.ok ? guessEdges(parts.value, name) : [];
  return corners.map((corner, i) =>
    guesses[i]?.name === corner.name && guesses[i].role === corner.role ? { ...corner, ...unnamed } : corner,
  );
}

/** Turns a half the short way round until its fold, its last line, is upright: edges are guessed by where they lie. */
function foldUpright(half: Path): RigidMove {
  const { start, end } = half.at(-1)!;
  const across = start.y < end.y ? end.x - start.x : start.x - end.x;
  return turnAbout(start, Math.atan2(across, Math.abs(end.y - start.y)));
}

function namedAnew(
  path: Path,
  corners: readonly Pick<DraftCorner, 'segment' | 't' | 'name' | 'role'>[],
  fold: number,
  name: string,
): readonly DraftCorner[] {
  const parts = edgeParts(path, corners);
  const guesses = parts.ok
    ? guessEdges(
        parts.value.map((part) => movePath(foldUpright(path), part)),
        name,
      )
    : [];
  return corners.map(({ segment, t, ...edge }, i): DraftCorner => {
    if (i === fold) return { segment, t, ...edge, onFold: true };
    const guess = guesses[i];
    const anew = edge.role === 'other' && (edge.name === unnamed.name || /^Edge \d+$/.test(edge.name));
    return { segment, t, ...(anew ? { name: guess?.name ?? `Edge ${i + 1}`, role: guess?.role ?? 'other' } : edge) };
  });
}
