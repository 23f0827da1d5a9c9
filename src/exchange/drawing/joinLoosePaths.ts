import { enclosedArea } from '../../geometry/area';
import { pathLength } from '../../geometry/path';
import { distance, mix, type Point } from '../../geometry/point';
import { line, type Path, reversePath, type Segment } from '../../geometry/segment';
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
  const lines = tidied.filter((item) => item.path.length > 0);
  const single = withoutCopies(lines);
  const joined = joinSingle(single, tolerance);
  const specks = loose.length - lines.length + joined.specks;
  const { outlines, crowded } = joined;
  const widestGap = Math.max(0, ...outlines.flatMap((outline) => outline.gaps.map((gap) => gap.width)));
  const nextGap = smallestOpenGap(outlines);
  const notes = [
    ...counted(lines.length - single.length, 'line drawn twice', 'lines drawn twice'),
    ...counted(specks, 'speck', 'specks'),
    ...tinyNote(lines.reduce((sum, item) => sum + item.dropped, 0)),
    ...gapNote(outlines, widestGap, tolerance),
    ...crowdNote(crowded),
    ...openNote(outlines, nextGap, tolerance),
  ];
  return { outlines, widestGap, nextGap, notes };
}

interface Joined {
  readonly outlines: readonly JoinedOutline[];
  readonly crowded: number;
  readonly specks: number;
}

/**
 * Joins lines without copies. Specks stay out of it, for one lying near a gap would spoil the join; unless more comes out
 * closed with them: then they are the steps of a trace that was handed over one by one.
 */
function joinSingle(single: readonly LoosePath[], tolerance: number): Joined {
  const large = single.filter((item) => !isSpeck(item.path));
  const without = joinAll(large, tolerance);
  if (large.length === single.length) return without;
  const withSpecks = joinAll(single, tolerance);
  const isTrace = closedLength(withSpecks) > 1.01 * closedLength(without);
  return isTrace ? withSpecks : { ...without, specks: without.specks + single.length - large.length };
}

function joinAll(single: readonly LoosePath[], tolerance: number): Joined {
  const open = single.filter((item) => !item.closed);
  const { partners, crowded } = pairEnds(open, tolerance);
  const all: JoinedOutline[] = [
    ...single
      .filter((item) => item.closed)
      .map((item) => ({ from: [item.id], path: item.path, closed: true, gaps: [] })),
    ...chains(open, partners),
  ];
  const sized = all
    .filter((outline) => !isSpeck(outline.path))
    .map(ourWayRound)
    .map((outline) => ({ outline, size: outline.closed ? enclosedArea(outline.path) : roughLength(outline.path) }));
  sized.sort((a, b) => Number(b.outline.closed) - Number(a.outline.closed) || b.size - a.size);
  const outlines = sized.map(({ outline }) => outline);
  return { outlines, crowded, specks: all.length - outlines.length };
}

function isSpeck(path: Path): boolean {
  return roughLength(path) < speckLength;
}

function roughLength(path: Path): number {
  return pathLength(path, speckLength / 100);
}

function closedLength({ outlines }: Joined): number {
  return outlines.reduce((sum, { closed, path }) => (closed ? sum + roughLength(path) : sum), 0);
}

/** Follows partners from end to end, starting at free ends and then anywhere on what is left (closed rings). */
function chains(open: readonly LoosePath[], partners: readonly (LooseEnd | null)[]): JoinedOutline[] {
  const used = new Set<number>();
  const made: JoinedOutline[] = [];
  const endIndex = (end: LooseEnd) => 2 * end.line + (end.atStart ? 0 : 1);
  const follow = (first: LooseEnd) => {
    const from: string[] = [];
    const gaps: ClosedGap[] = [];
    const path: Segment[] = [];
    let entering: LooseEnd | null = first;
    let closed = false;
    while (entering && !closed) {
      const { line: at, atStart } = entering;
      used.add(at);
      from.push(open[at]!.id);
      layOn(path, atStart ? open[at]!.path : reversePath(open[at]!.path), gaps);
      const leaving: LooseEnd = { line: at, atStart: !atStart };
      entering = partners[endIndex(leaving)] ?? null;
      if (entering && used.has(entering.line)) closed = true;
    }
    if (closed) closeUp(path, gaps);
    made.push({ from, path, closed, gaps });
  };
  for (let i = 0; i < open.length; i++) {
    for (const atStart of [true, false]) {
      if (!used.has(i) && !partners[2 * i + (atStart ? 0 : 1)]) follow({ line: i, atStart });
    }
  }
  for (let i = 0; i < open.length; i++) if (!used.has(i)) follow({ line: i, atStart: true });
  return made;
}

/** Lays the next line on to a path, closing and noting the gap between them. */
function layOn(path: Segment[], next: Path, gaps: ClosedGap[]): void {
  const last = path.at(-1);
  const meeting = last ? closeGap(path, last.end, next[0]!.start, gaps) : next[0]!.start;
  if (last && meeting !== last.end) path[path.length - 1] = endingAt(path.at(-1)!, meeting);
  next.forEach((segment, i) => {
    path.push(i === 0 ? startingAt(segment, meeting) : segment);
  });
}

/** Brings the last end of a path to its first start. */
function closeUp(path: Segment[], gaps: ClosedGap[]): void {
  const meeting = closeGap(path, path.at(-1)!.end, path[0]!.start, gaps);
  path[path.length - 1] = endingAt(path.at(-1)!, meeting);
  path[0] = startingAt(path[0]!, meeting);
}

/** Where an end and a start will meet: half-way, or at the start after a straight line has bridged a wider gap. */
function closeGap(path: Segment[], end: Point, start: Point, gaps: ClosedGap[]): Point {
  const width = distance(end, start);
  const middle = mix(end, start, 0.5);
  if (width === 0) return start;
  gaps.push({ at: middle, width });
  if (width <= movedGap) return middle;
  path.push(line(end, start));
  return start;
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

function counted(count: number, one: string, many: string): string[] {
  return count > 0 ? [`${count} ${count === 1 ? `${one} was` : `${many} were`} left out.`] : [];
}

function crowdNote(count: number): string[] {
  const places = count === 1 ? '1 place' : `${count} places`;
  return count > 0
    ? [`At ${places} more than two lines meet; the nearest ends were joined. Check the outline there.`]
    : [];
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
