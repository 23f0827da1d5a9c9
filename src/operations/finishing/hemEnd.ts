import { flattenPath } from '../../geometry/flatten';
import { pathEnd, pathStart } from '../../geometry/path';
import { add, distance, dot, type Point, scale, subtract } from '../../geometry/point';
import { cubic, line, type Path, reversePath, type Segment } from '../../geometry/segment';
import { allowanceChord, hemMirrorLeanLimit } from '../../geometry/tolerance';
import type { Join } from './corner';
import { type AllowanceSide, cornerBetween } from './side';
import { crossings, nearestCrossing, type PathPlace, placeNumber, trimPath } from './trim';

/**
 * The end of a hem allowance, mirrored at the hem fold: when the hem is turned up along the tangent of the hem at its
 * end, the cut line of the allowance lies on the cut line of the side seam. For a side leaning t from square, an
 * allowance h deep ends h tan t away from the square end.
 *
 * `hem` and `side` follow one another; `hemFirst` says in which order. Null when it cannot be done (a side that leans
 * more than `hemMirrorLeanLimit` from square, or lines that do not meet): then the corner is mitred like any other.
 */
export function mirroredHemEnd(hem: AllowanceSide, side: AllowanceSide, hemFirst: boolean): Join | null {
  const { at, turn } = hemFirst ? cornerBetween(hem, side) : cornerBetween(side, hem);
  if (Math.abs(turn - Math.PI / 2) > hemMirrorLeanLimit) return null;
  if (hemFirst ? hem.moved.foldsAtEnd || side.moved.foldsAtStart : hem.moved.foldsAtStart || side.moved.foldsAtEnd)
    return null;
  // Everything is worked as if leaving the hem end: along the hem outward, and up the side.
  const outward = hemFirst ? hem.endDirection : scale(hem.startDirection, -1);
  const upSide = hemFirst ? side.moved.path : reversePath(side.moved.path);
  const sideDirection = hemFirst ? side.startDirection : scale(side.endDirection, -1);
  const hemOutbound = hemFirst ? hem.moved.path : reversePath(hem.moved.path);

  const reach = 4 * (hem.width + side.width + 1);
  const longUpSide = lengthened(upSide, sideDirection, reach);
  const foldLine = line(add(at, scale(outward, -reach)), add(at, scale(outward, reach)));
  const atFold = nearestCrossing([foldLine], longUpSide);
  if (!atFold || atFold.onAfter.segment > upSide.length) return null;
  // Where the fold line, run on straight from the hem's end, meets the side's cut line.
  const foldEnd = atFold.point;

  const mirrored = trimPath(longUpSide, atFold.onAfter, null, foldEnd).map((s) => mirrorSegment(s, at, outward));
  const longHem: Path = [...hemOutbound, line(pathEnd(hemOutbound), add(pathEnd(hemOutbound), scale(outward, reach)))];
  const atDepth = firstAlong(longHem, mirrored);
  if (!atDepth) return null;

  const down = trimPath(mirrored, null, atDepth.onAfter, foldEnd, atDepth.point);
  const onHem = atDepth.onBefore.segment < hemOutbound.length ? atDepth.onBefore : null;
  const runOn = onHem ? [] : straight(pathEnd(hemOutbound), atDepth.point);
  // On the real side: the straight piece put before it comes first, then its own segments.
  const onSide = placeOnSide(atFold.onAfter, upSide.length);
  const runDown = onSide ? [] : straight(foldEnd, pathStart(upSide));
  const outbound: Path = [...runOn, ...reversePath(down), ...runDown];
  const from = onHem ? atDepth.point : pathEnd(hemOutbound);
  const to = onSide ? foldEnd : pathStart(upSide);
  const wedge = [at, ...flattenPath(outbound, allowanceChord)];
  return hemFirst
    ? { tail: onHem, head: onSide, link: outbound, from, to, wedge, clean: true }
    : {
        tail: onSide && flip(onSide, upSide.length),
        head: onHem && flip(onHem, hemOutbound.length),
        link: reversePath(outbound),
        from: to,
        to: from,
        wedge,
        clean: true,
      };
}

/** The crossing met first when walking down the mirrored side. */
function firstAlong(hem: Path, mirrored: Path): ReturnType<typeof nearestCrossing> {
  let best: ReturnType<typeof nearestCrossing> = null;
  for (const hit of crossings(hem, mirrored)) {
    if (!best || placeNumber(hit.onAfter) < placeNumber(best.onAfter)) best = hit;
  }
  return best;
}

/** The side with a straight run before its start and after its end, so that short sides still reach. */
function lengthened(path: Path, startDirection: Point, reach: number): Path {
  const last = path[path.length - 1]!;
  const from = last.kind === 'cubic' ? last.control2 : last.start;
  const back = distance(from, last.end);
  const endDirection = back === 0 ? startDirection : scale(subtract(last.end, from), 1 / back);
  return [
    line(add(pathStart(path), scale(startDirection, -reach)), pathStart(path)),
    ...path,
    line(last.end, add(last.end, scale(endDirection, reach))),
  ];
}

function placeOnSide(place: PathPlace, sideLength: number): PathPlace | null {
  const segment = place.segment - 1;
  return segment >= 0 && segment < sideLength ? { segment, t: place.t } : null;
}

/** The same place on the reversed path. */
function flip(place: PathPlace, length: number): PathPlace {
  return { segment: length - 1 - place.segment, t: 1 - place.t };
}

function straight(from: Point, to: Point): Path {
  return distance(from, to) > 0 ? [line(from, to)] : [];
}

function mirrorSegment(segment: Segment, through: Point, along: Point): Segment {
  const m = (p: Point) => mirrorPoint(p, through, along);
  return segment.kind === 'line'
    ? line(m(segment.start), m(segment.end))
    : cubic(m(segment.start), m(segment.control1), m(segment.control2), m(segment.end));
}

/** The point mirrored in the line through `through` along the unit vector `along`. */
function mirrorPoint(p: Point, through: Point, along: Point): Point {
  const v = subtract(p, through);
  const t = 2 * dot(v, along);
  return { x: through.x + t * along.x - v.x, y: through.y + t * along.y - v.y };
}
