import { intersectLineWithPath } from '../../geometry/intersect';
import { type MirrorLine, mirrorPath, mirrorPoint, sideOf } from '../../geometry/mirror';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { pathLength, pathPointAt } from '../../geometry/path';
import { add, distance, dot, type Point, scale, subtract } from '../../geometry/point';
import { type Path, reversePath, type Segment, segmentPointAt, splitSegment } from '../../geometry/segment';
import { cornerSnap, onFoldReach } from '../../geometry/tolerance';
import type { EdgeStart } from '../edgeNaming';

/** A place where an edge may end: a corner the maker sees, or a sharp turn of the line. */
export interface SideCorner {
  readonly at: Point;
  /** mm along the side. */
  readonly along: number;
  /** The edge that starts here; null for a sharp turn inside an edge. */
  readonly edge: Pick<EdgeStart, 'name' | 'role'> | null;
}

/** One side of an outline, from the fold round to the fold again. */
export interface Side {
  readonly path: Path;
  readonly corners: readonly SideCorner[];
  /** The edge it begins in the middle of, or with. */
  readonly first: Pick<EdgeStart, 'name' | 'role'>;
  /** Whether the outline has a corner where the side begins and where it ends. */
  readonly cornered: readonly [boolean, boolean];
}

/** Both sides of an outline at a line, the second folded over onto the first and turned to run the same way. */
export interface BothSides {
  readonly kept: Side;
  readonly other: Side;
}

interface Place {
  readonly segment: number;
  readonly t: number;
}

interface Turn extends Place {
  readonly edge: Pick<EdgeStart, 'name' | 'role'> | null;
}

/** Parts an outline at a line. `sign` says which side is kept: that of `sideOf` > 0, or < 0. `turns` are in order. */
export function partSides(outline: Path, turns: readonly Turn[], mirror: MirrorLine, sign: 1 | -1): Outcome<BothSides> {
  const crossings = intersectLineWithPath(mirror.at, mirror.along, outline);
  const ends = distinctEnds(crossings.map(({ point, segment, t }) => ({ point, segment, t })));
  if (ends.length !== 2) {
    return fail(
      'fold-crosses-often',
      'The fold would not run through the piece in one go. Move it, or leave the piece whole and cut it as it lies.',
    );
  }
  const cuts = ends.map((end) => cutPlace(outline, turns, end, mirror));
  const [a, b] = [cuts[0]!, cuts[1]!];
  const sides = [sideBetween(outline, turns, a, b), sideBetween(outline, turns, b, a)];
  const keptFirst = sign * sideOf(mirror, middleOf(sides[0]!.path)) > 0;
  const kept = sides[keptFirst ? 0 : 1]!;
  const other = sides[keptFirst ? 1 : 0]!;
  if (sign * sideOf(mirror, middleOf(kept.path)) <= 0 || sign * sideOf(mirror, middleOf(other.path)) >= 0) {
    return fail('fold-crosses-often', 'The fold would leave both halves on one side. Move it.');
  }
  return succeed({ kept, other: foldedOver(other, mirror) });
}

interface Cut extends Place {
  /** Exactly on the fold. */
  readonly at: Point;
  readonly cornered: boolean;
}

function distinctEnds<T extends { readonly point: Point }>(crossings: readonly T[]): T[] {
  return crossings.filter((one, i) => i === 0 || distance(one.point, crossings[i - 1]!.point) > cornerSnap);
}

/** A corner close by is where the outline is parted: the tip of a neck that is not drawn quite on the line. */
function cutPlace(outline: Path, turns: readonly Turn[], end: Place & { point: Point }, mirror: MirrorLine): Cut {
  const near = turns
    .map((turn) => ({ turn, away: distance(pointAt(outline, turn), end.point) }))
    .filter(({ away }) => away <= onFoldReach)
    .sort((one, two) => one.away - two.away)[0];
  const place = near === undefined ? settled(outline, end) : near.turn;
  const on = pointAt(outline, place);
  const at = add(mirror.at, scale(mirror.along, dot(mirror.along, subtract(on, mirror.at))));
  return { segment: place.segment, t: place.t, at, cornered: near !== undefined };
}

/** The place at a joint it lies next to, so that no slivers are cut. */
function settled(outline: Path, { segment, t }: Place): Place {
  const on = outline[segment]!;
  const at = segmentPointAt(on, t);
  if (distance(at, on.end) <= cornerSnap) return { segment: (segment + 1) % outline.length, t: 0 };
  return distance(at, on.start) <= cornerSnap ? { segment, t: 0 } : { segment, t };
}

function sideBetween(outline: Path, turns: readonly Turn[], from: Cut, to: Cut): Side {
  const path = endsMoved(pathBetween(outline, from, to), from.at, to.at);
  const ahead = (place: Place) => order(place, from, outline.length);
  const inside = turns.filter((turn) => ahead(turn) > 0 && ahead(turn) < ahead(to));
  const corners = inside
    .sort((one, two) => ahead(one) - ahead(two))
    .map((turn): SideCorner => {
      const at = pointAt(outline, turn);
      return { at, along: pathLength(endsMoved(pathBetween(outline, from, turn), from.at, at)), edge: turn.edge };
    });
  const whole = pathLength(path);
  return {
    path,
    corners: corners.filter(({ along }) => along > cornerSnap && along < whole - cornerSnap),
    first: edgeAt(turns, from, outline.length),
    cornered: [from.cornered, to.cornered],
  };
}

/** The edge a place lies on, or that starts there. */
function edgeAt(turns: readonly Turn[], place: Place, count: number): Pick<EdgeStart, 'name' | 'role'> {
  const edges = turns.flatMap((turn) => (turn.edge === null ? [] : [{ turn, edge: turn.edge }]));
  const before = edges.toSorted((one, two) => order(one.turn, place, count) - order(two.turn, place, count));
  const own = before.find(({ turn }) => samePlace(turn, place));
  return own?.edge ?? before.at(-1)?.edge ?? { name: 'Edge', role: 'other' };
}

/** How far along the outline a place is from another, in segments. */
function order(place: Place, from: Place, count: number): number {
  return (place.segment + place.t - from.segment - from.t + 2 * count) % count;
}

function samePlace(a: Place, b: Place): boolean {
  return a.segment === b.segment && a.t === b.t;
}

function pointAt(outline: Path, { segment, t }: Place): Point {
  return segmentPointAt(outline[segment]!, t);
}

function pathBetween(outline: Path, from: Place, to: Place): Path {
  if (from.segment === to.segment && from.t < to.t) {
    const tail = from.t === 0 ? outline[from.segment]! : splitSegment(outline[from.segment]!, from.t)[1];
    return [splitSegment(tail, (to.t - from.t) / (1 - from.t))[0]];
  }
  const path: Segment[] = [];
  path.push(from.t === 0 ? outline[from.segment]! : splitSegment(outline[from.segment]!, from.t)[1]);
  for (let i = (from.segment + 1) % outline.length; i !== to.segment; i = (i + 1) % outline.length)
    path.push(outline[i]!);
  if (to.t > 0) path.push(splitSegment(outline[to.segment]!, to.t)[0]);
  return path;
}

/** The path with its ends exactly where the fold has them. */
function endsMoved(path: Path, start: Point, end: Point): Path {
  const moved = [...path];
  const first = moved[0]!;
  const by = subtract(start, first.start);
  moved[0] = first.kind === 'line' ? { ...first, start } : { ...first, start, control1: add(first.control1, by) };
  const last = moved.at(-1)!;
  const to = subtract(end, last.end);
  moved[moved.length - 1] =
    last.kind === 'line' ? { ...last, end } : { ...last, end, control2: add(last.control2, to) };
  return moved;
}

function foldedOver(side: Side, mirror: MirrorLine): Side {
  const path = reversePath(mirrorPath(mirror, side.path));
  const whole = pathLength(path);
  const names = [side.first, ...side.corners.flatMap(({ edge }) => (edge === null ? [] : [edge]))];
  // Walked the other way, the edge after a corner is the one that ended there.
  let at = names.length - 1;
  const corners = side.corners.toReversed().map((corner): SideCorner => {
    const turned = { at: mirrorPoint(mirror, corner.at), along: whole - corner.along };
    if (corner.edge === null) return { ...turned, edge: null };
    at -= 1;
    return { ...turned, edge: names[at]! };
  });
  return { path, corners, first: names.at(-1)!, cornered: [side.cornered[1], side.cornered[0]] };
}

function middleOf(path: Path): Point {
  return pathPointAt(path, pathLength(path, 1e-3) / 2).point;
}
