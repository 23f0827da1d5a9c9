import { enclosedArea } from '../../geometry/area';
import { type MirrorLine, mirrorPath } from '../../geometry/mirror';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { pathLength, subPath } from '../../geometry/path';
import { type Point, quarterTurn, scale } from '../../geometry/point';
import { line, type Path, reversePath } from '../../geometry/segment';
import { sidesApartMost, sidesApartShare } from '../../geometry/tolerance';
import { proposeCorners } from '../cornerProposal';
import type { EdgeStart } from '../edgeNaming';
import { meanStretch } from './meanStretch';
import { axisAt, type MirrorAxis } from './mirrorAxes';
import { footFinder, samplesOf } from './outlineSamples';
import { pairCorners } from './pairCorners';
import { partSides, type Side, type SideCorner } from './sideChains';
import { type FoldEnd, squaredAtFold } from './squareAtFold';

/** Which half is drawn: the mean of both, or one of them as it is. `plus` is the side that `sideOf` counts positive. */
export type KeptHalf = 'mean' | 'plus' | 'minus';

export interface FoldAnswers {
  /** Closed, counter-clockwise as seen on screen, mm. */
  readonly outline: Path;
  /** In order along the outline. */
  readonly corners: readonly EdgeStart[];
  readonly mirror: MirrorLine;
  readonly kept: KeptHalf;
  /** On which side the mean is drawn. */
  readonly meanOn: 'plus' | 'minus';
  readonly foldEdge: Pick<EdgeStart, 'name' | 'role'>;
}

export interface FoldedHalf {
  /** Closed, counter-clockwise as seen on screen; its last segment is the fold, one straight line. */
  readonly outline: Path;
  readonly corners: readonly EdgeStart[];
  /** Index of the corner at which the fold starts. */
  readonly fold: number;
  readonly axis: MirrorAxis;
  /** Largest distance between the piece as it was drawn and the half opened out again, mm. */
  readonly deviation: number;
  /** How neck and hem come in at the fold, in the order of the outline. */
  readonly ends: readonly FoldEnd[];
  /** Corners that only one of the sides has. */
  readonly loneCorners: number;
}

/** The most both sides of a piece of this area may be apart and still be the same twice, mm. */
export function sidesApartLimit(outline: Path): number {
  return Math.min(sidesApartMost, sidesApartShare * Math.sqrt(Math.abs(enclosedArea(outline))));
}

/**
 * Half of a piece that is drawn whole, parted at its centre line, which becomes the edge on the fold. The mean of both
 * sides is drawn where they correspond from corner to corner. Refused where the line does not run through the piece in
 * one go, or where both sides are too far apart to be the same (`sidesApartLimit`).
 */
export function foldInHalf(answers: FoldAnswers): Outcome<FoldedHalf> {
  const { outline, mirror, kept, meanOn, foldEdge } = answers;
  const axis = axisAt(outline, mirror);
  const limit = sidesApartLimit(outline);
  if (axis === null || !(axis.apart <= limit)) return sidesDiffer(axis?.apart ?? null, limit);
  const drawn = kept === 'mean' ? meanOn : kept;
  const parted = partSides(outline, turnsOf(outline, answers.corners), mirror, drawn === 'plus' ? 1 : -1);
  if (!parted.ok) return parted;
  const { kept: side, other } = parted.value;
  const inward = scale(quarterTurn(mirror.along), drawn === 'plus' ? 1 : -1);
  const half =
    kept === 'mean'
      ? meanOfSides(side, other, inward)
      : { stretches: stretchesOf(side, side.corners), ...side, lone: 0 };
  const squared = squaredAtFold(half.stretches.flat(), mirror.along, inward, side.cornered);
  const lengths = half.stretches.map(({ length }) => length);
  const corners = cornersOf(lengths, half.first, half.corners, foldEdge);
  const path = [...squared.path, line(squared.path.at(-1)!.end, squared.path[0]!.start)];
  return succeed({
    outline: path,
    corners,
    fold: corners.length - 1,
    axis,
    deviation: apartFrom(outline, openedOut(squared.path, mirror)),
    ends: squared.ends,
    loneCorners: half.lone,
  });
}

export function sidesDiffer(apart: number | null, limit: number) {
  const figure =
    apart === null ? '' : ` They are ${apart.toFixed(1)} mm apart, and ${limit.toFixed(1)} mm is the most.`;
  return fail(
    'sides-differ',
    `The two sides are not the same about this line.${figure} Move the line, or leave the piece whole and cut it as it lies.`,
  );
}

/** A half and its mirror image as one outline again. */
export function openedOut(half: Path, mirror: MirrorLine): Path {
  return [...half, ...reversePath(mirrorPath(mirror, half))];
}

/** The corners that part edges, and sharp turns inside them, in order along the outline. */
function turnsOf(outline: Path, corners: readonly EdgeStart[]) {
  const edges = corners.map(({ segment, t, name, role }) => ({ segment, t, edge: { name, role } }));
  const sharp = proposeCorners(outline)
    .filter(({ segment }) => !edges.some((corner) => corner.segment === segment && corner.t === 0))
    .map(({ segment }) => ({ segment, t: 0, edge: null }));
  return [...edges, ...sharp].sort((a, b) => a.segment - b.segment || a.t - b.t);
}

function stretchesOf(side: Side, corners: readonly SideCorner[]): Path[] {
  const places = [0, ...corners.map(({ along }) => along), pathLength(side.path) + 1];
  return places.slice(1).map((to, i) => subPath(side.path, places[i]!, to));
}

/**
 * Both sides stretch by stretch: between corners that both have, and those that only one has, carried to the other. A line
 * that crosses the fold without a corner crosses it square, since its tilt on one side is the opposite of that on the other.
 */
function meanOfSides(side: Side, other: Side, inward: Point) {
  const pairs = pairCorners(side, other);
  const one = stretchesOf(
    side,
    pairs.map(([corner]) => corner),
  );
  const two = stretchesOf(
    other,
    pairs.map(([, corner]) => corner),
  );
  const means = one.map((path, i) => [
    ...meanStretch(path, two[i]!, {
      ...(i === 0 && !side.cornered[0] ? { leaving: inward } : {}),
      ...(i === one.length - 1 && !side.cornered[1] ? { arriving: scale(inward, -1) } : {}),
    }),
  ]);
  for (let i = 1; i < means.length; i++) means[i]![0] = { ...means[i]![0]!, start: means[i - 1]!.at(-1)!.end };
  return {
    stretches: means,
    first: side.first,
    corners: pairs.map(([corner, twin]) => ({ ...corner, edge: corner.edge ?? twin.edge })),
    lone: pairs.filter(([corner, twin]) => (corner.edge === null) !== (twin.edge === null)).length,
  };
}

function cornersOf(
  lengths: readonly number[],
  first: Pick<EdgeStart, 'name' | 'role'>,
  corners: readonly SideCorner[],
  foldEdge: Pick<EdgeStart, 'name' | 'role'>,
): EdgeStart[] {
  const starts: EdgeStart[] = [{ segment: 0, t: 0, ...first }];
  let segment = 0;
  lengths.forEach((length, i) => {
    segment += length;
    const edge = i < corners.length ? corners[i]!.edge : foldEdge;
    if (edge !== null) starts.push({ segment, t: 0, ...edge });
  });
  return starts;
}

/** Largest distance between two closed outlines, each way, mm. */
function apartFrom(one: Path, two: Path): number {
  const most = (from: Path, to: Path) => {
    const foot = footFinder(to);
    return samplesOf(from, 400).reduce((worst, { p }) => Math.max(worst, Math.abs(foot(p).gap)), 0);
  };
  return Math.max(most(one, two), most(two, one));
}
