import { type MirrorLine, mirrorPoint, sideOf } from '../../geometry/mirror';
import { add, cross, distance, dot, mix, type Point, scale, subtract, unit } from '../../geometry/point';
import { foldSquareWithin, onFoldReach, sidePairReach } from '../../geometry/tolerance';
import type { DrawnMark } from '../drawing/drawingReading';

export interface FoldedMarks {
  readonly marks: readonly DrawnMark[];
  /** For the maker: what was only on one side, and what no longer holds. */
  readonly notes: readonly string[];
}

type Spot = Extract<DrawnMark, { at: Point }>;

/**
 * The marks of a piece drawn whole on its half. Two that lie on each other when folded become one, halfway; one that only
 * one side has is kept, and said. Of grainlines one stays; one on the fold itself is left to be laid anew beside it.
 * `sign` is the side of `sideOf` on which the half lies.
 */
export function foldMarks(
  marks: readonly DrawnMark[],
  mirror: MirrorLine,
  sign: 1 | -1,
  kept: 'mean' | 'one',
): FoldedMarks {
  const spots = marks.filter((mark): mark is Spot => mark.kind !== 'grain');
  const own = spots.filter(({ at }) => sign * sideOf(mirror, at) >= onFoldReach);
  const onFold = spots.filter(({ at }) => Math.abs(sideOf(mirror, at)) < onFoldReach);
  const across = spots
    .filter(({ at }) => sign * sideOf(mirror, at) <= -onFoldReach)
    .map((mark): Spot => ({ ...mark, at: mirrorPoint(mirror, mark.at) }));
  let lone = 0;
  const paired = own.map((mark): Spot => {
    const twins = across.filter((twin) => twin.kind === mark.kind && twin.shape === mark.shape);
    const twin = twins.sort((a, b) => distance(a.at, mark.at) - distance(b.at, mark.at))[0];
    if (twin === undefined || distance(twin.at, mark.at) > sidePairReach) {
      lone += 1;
      return mark;
    }
    across.splice(across.indexOf(twin), 1);
    return kept === 'mean' ? { ...mark, at: mix(mark.at, twin.at, 0.5) } : mark;
  });
  lone += across.length;
  const grain = grainOf(marks, mirror, sign);
  const notes = [
    ...(lone === 0
      ? []
      : [
          lone === 1
            ? 'One mark was only on one side; it is kept and now holds for both.'
            : `${lone} marks were only on one side; they are kept and now hold for both.`,
        ]),
    ...(grain?.askew ? ['The grainline does not run along the fold; look at it in Mark.'] : []),
  ];
  return {
    marks: [...paired, ...across, ...onFold.map((mark) => laidOnFold(mark, mirror, sign)), ...(grain?.marks ?? [])],
    notes,
  };
}

/** mm. A mark on the fold lies this far inside, so that it counts as within the piece. */
const justInside = 1e-3;

function laidOnFold(mark: Spot, mirror: MirrorLine, sign: 1 | -1): Spot {
  const foot = add(mirror.at, scale(mirror.along, dot(mirror.along, subtract(mark.at, mirror.at))));
  const inward = { x: -mirror.along.y * sign, y: mirror.along.x * sign };
  return { ...mark, at: mark.kind === 'drill' ? add(foot, scale(inward, justInside)) : foot };
}

function grainOf(marks: readonly DrawnMark[], mirror: MirrorLine, sign: 1 | -1) {
  const grain = marks.find((mark) => mark.kind === 'grain');
  if (grain === undefined) return null;
  const ends = [grain.from, grain.to];
  const askew = Math.abs(cross(unit(subtract(grain.to, grain.from)), mirror.along)) > Math.sin(foldSquareWithin);
  const sides = ends.map((end) => sign * sideOf(mirror, end));
  // On the fold, or across it: it is laid anew, along the fold through the middle of the half.
  if (sides.some((side) => Math.abs(side) < onFoldReach) || sides[0]! * sides[1]! < 0) return { marks: [], askew };
  const over = (end: Point) => (sides[0]! < 0 ? mirrorPoint(mirror, end) : end);
  return { marks: [{ ...grain, from: over(grain.from), to: over(grain.to) }], askew };
}
