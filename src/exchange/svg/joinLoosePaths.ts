import { enclosedArea } from '../../geometry/area';
import { pathLength } from '../../geometry/path';
import { distance, mix, type Point } from '../../geometry/point';
import { line, type Path, reversePath } from '../../geometry/segment';
import { joinGap, movedGap, speckLength } from '../../geometry/tolerance';
import { type LooseEnd, pairEnds } from './pairEnds';
import { withoutCopies } from './sameLine';
import { endingAt, startingAt, tidyPath } from './tidyPath';

export interface LoosePath {
  readonly id: string;
  readonly path: Path;
  readonly closed: boolean;
}

/** A gap between two ends that was closed: where, and how wide it was, mm. */
export interface ClosedGap {
  readonly at: Point;
  readonly width: number;
}

export interface JoinedOutline {
  /** Ids of the lines it was made of, in order along it. */
  readonly from: readonly string[];
  /** Closed ones run counter-clockwise as seen on screen. */
  readonly path: Path;
  readonly closed: boolean;
  readonly gaps: readonly ClosedGap[];
}

export interface JoinResult {
  /** Closed outlines first, the largest first; then what stayed open, the longest first. */
  readonly outlines: readonly JoinedOutline[];
  /** Widest gap that was closed, mm; 0 when all ends met. */
  readonly widestGap: number;
  /** Width of the smallest gap left open, mm: the tolerance that would close it. Null when nothing is open. */
  readonly nextGap: number | null;
  /** What was joined and left out, for the maker. */
  readonly notes: readonly string[];
}

/**
 * Joins loose lines (mm) into outlines wherever two ends lie within `tolerance` of each other, nearest first. Lines drawn
 * twice, specks and tiny segments are left out and counted. Ends up to half a millimetre apart meet half-way; a wider gap
 * is bridged by a straight line. Closed outlines are turned our way round.
 */
export function joinLoosePaths(loose: readonly LoosePath[], tolerance = joinGap): JoinResult {
  const tidied = loose.map((item) => ({ ...item, ...tidyPath(item.path, item.closed) }));
  const lines = tidied.filter(
    (item) => item.path.length > 0 && pathLength(item.path, speckLength / 100) >= speckLength,
  );
  const single = withoutCopies(lines);
  const open = single.filter((item) => !item.closed);
  const { partners, crowded } = pairEnds(open, tolerance);
  const joined = [
    ...single
      .filter((item) => item.closed)
      .map((item) => ({ from: [item.id], path: item.path, closed: true, gaps: [] })),
    ...chains(open, partners),
  ].map(ourWayRound);
  const size = (outline: JoinedOutline) =>
    outline.closed ? enclosedArea(outline.path) : pathLength(outline.path, speckLength / 100);
  const sized = joined.map((outline) => ({ outline, size: size(outline) }));
  sized.sort((a, b) => Number(b.outline.closed) - Number(a.outline.closed) || b.size - a.size);
  const outlines = sized.map(({ outline }) => outline);
  const widestGap = Math.max(0, ...outlines.flatMap((outline) => outline.gaps.map((gap) => gap.width)));
  const nextGap = smallestOpenGap(outlines);
  const notes = [
    ...counted(single.length < lines.length, lines.length - single.length, 'line drawn twice', 'lines drawn twice'),
    ...counted(lines.length < loose.length, loose.length - lines.length, 'speck', 'specks'),
    ...tinyNote(lines.reduce((sum, item) => sum + item.dropped, 0)),
    ...gapNote(outlines, widestGap, tolerance),
    ...(crowded > 0
      ? [
          `At ${crowded} ${crowded === 1 ? 'place' : 'places'} more than two lines meet; the nearest ends were joined. Check the outline there.`,
        ]
      : []),
    ...openNote(outlines, nextGap, tolerance),
  ];
  return { outlines, widestGap, nextGap, notes };
}

/** Follows partners from end to end, starting at free ends and then anywhere on what is left (closed rings). */
function chains(open: readonly LoosePath[], partners: readonly (LooseEnd | null)[]): JoinedOutline[] {
  const used = new Set<number>();
  const made: JoinedOutline[] = [];
  const endIndex = (end: LooseEnd) => 2 * end.line + (end.atStart ? 0 : 1);
  const follow = (first: LooseEnd) => {
    const from: string[] = [];
    const gaps: ClosedGap[] = [];
    let path: Path = [];
    let entering: LooseEnd | null = first;
    let closed = false;
    while (entering && !closed) {
      const { line: at, atStart } = entering;
      used.add(at);
      from.push(open[at]!.id);
      const next = atStart ? open[at]!.path : reversePath(open[at]!.path);
      path = path.length === 0 ? next : joinedEnds(path, next, gaps);
      const leaving: LooseEnd = { line: at, atStart: !atStart };
      entering = partners[endIndex(leaving)] ?? null;
      if (entering && used.has(entering.line)) closed = true;
    }
    made.push({ from, path: closed ? closedUp(path, gaps) : path, closed, gaps });
  };
  for (let i = 0; i < open.length; i++) {
    for (const atStart of [true, false]) {
      if (!used.has(i) && !partners[2 * i + (atStart ? 0 : 1)]) follow({ line: i, atStart });
    }
  }
  for (let i = 0; i < open.length; i++) if (!used.has(i)) follow({ line: i, atStart: true });
  return made;
}

/** Two paths laid end to start, the gap between them closed and noted. */
function joinedEnds(before: Path, after: Path, gaps: ClosedGap[]): Path {
  const last = before.at(-1)!;
  const first = after[0]!;
  const width = distance(last.end, first.start);
  const middle = mix(last.end, first.start, 0.5);
  if (width > 0) gaps.push({ at: middle, width });
  if (width > movedGap) return [...before, line(last.end, first.start), ...after];
  const meeting = width > 0 ? middle : last.end;
  return [...before.slice(0, -1), endingAt(last, meeting), startingAt(first, meeting), ...after.slice(1)];
}

/** A path whose last end belongs at its first start. */
function closedUp(path: Path, gaps: ClosedGap[]): Path {
  const last = path.at(-1)!;
  const first = path[0]!;
  const width = distance(last.end, first.start);
  const middle = mix(last.end, first.start, 0.5);
  if (width > 0) gaps.push({ at: middle, width });
  if (width > movedGap) return [...path, line(last.end, first.start)];
  const meeting = width > 0 ? middle : first.start;
  if (path.length === 1) return [startingAt(endingAt(last, meeting), meeting)];
  return [startingAt(first, meeting), ...path.slice(1, -1), endingAt(last, meeting)];
}

function ourWayRound(outline: JoinedOutline): JoinedOutline {
  if (!outline.closed || enclosedArea(outline.path) >= 0) return outline;
  return { ...outline, path: reversePath(outline.path), from: [...outline.from].reverse() };
}

function smallestOpenGap(outlines: readonly JoinedOutline[]): number | null {
  const ends = outlines.filter((outline) => !outline.closed).flatMap(({ path }) => [path[0]!.start, path.at(-1)!.end]);
  if (ends.length > 400) return null;
  let smallest: number | null = null;
  ends.forEach((a, i) => {
    for (const b of ends.slice(i + 1)) {
      const apart = distance(a, b);
      if (smallest === null || apart < smallest) smallest = apart;
    }
  });
  return smallest;
}

function counted(is: boolean, count: number, one: string, many: string): string[] {
  return is ? [`${count} ${count === 1 ? `${one} was` : `${many} were`} left out.`] : [];
}

function tinyNote(count: number): string[] {
  return count > 0
    ? [`${count} tiny ${count === 1 ? 'step' : 'steps'} in the lines ${count === 1 ? 'was' : 'were'} evened out.`]
    : [];
}

function gapNote(outlines: readonly JoinedOutline[], widest: number, tolerance: number): string[] {
  const count = outlines.reduce((sum, outline) => sum + outline.gaps.length, 0);
  if (count === 0) return [];
  return [
    `${count} ${count === 1 ? 'gap' : 'gaps'} between loose ends ${count === 1 ? 'was' : 'were'} closed, the widest ${widest.toFixed(2)} mm (up to ${tolerance} mm are closed).`,
  ];
}

function openNote(outlines: readonly JoinedOutline[], nextGap: number | null, tolerance: number): string[] {
  const count = outlines.filter((outline) => !outline.closed).length;
  if (count === 0 || nextGap === null) return [];
  const lines = count === 1 ? '1 line stays' : `${count} lines stay`;
  return nextGap > tolerance
    ? [`${lines} open; the nearest loose ends are ${nextGap.toFixed(2)} mm apart.`]
    : [`${lines} open.`];
}
