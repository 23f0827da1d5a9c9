import { nearestOnPath } from '../../geometry/nearest';
import { pathLength, pathPointAt } from '../../geometry/path';
import { distance } from '../../geometry/point';
import { sidePairReach } from '../../geometry/tolerance';
import type { Side, SideCorner } from './sideChains';

/** A corner of one side and the place of the other that corresponds to it. */
export type CornerPair = readonly [SideCorner, SideCorner];

/**
 * The corners of both sides, each with its twin, in order along them. The nearest find each other first. A corner that
 * only one side has is carried over to the other, unless it is but a sharp turn inside an edge: that is drawn as the mean
 * of both sides has it.
 */
export function pairCorners(side: Side, other: Side): readonly CornerPair[] {
  const pairs: CornerPair[] = [];
  const near = side.corners
    .flatMap((corner) => other.corners.map((twin) => ({ corner, twin, apart: distance(corner.at, twin.at) })))
    .filter(({ apart }) => apart <= sidePairReach)
    // A corner of the maker's is a surer twin than a sharp turn is.
    .sort((a, b) => Number(unsure(a)) - Number(unsure(b)) || a.apart - b.apart);
  for (const { corner, twin } of near) {
    const taken = pairs.some(([one, two]) => one === corner || two === twin);
    if (!taken && keepsOrder(pairs, corner, twin)) pairs.push([corner, twin]);
  }
  const ends: readonly [number, number] = [pathLength(side.path), pathLength(other.path)];
  for (const corner of side.corners) {
    if (corner.edge === null || pairs.some(([one]) => one === corner)) continue;
    pairs.push([corner, carried(other, corner, placesAround(pairs, 0, corner.along, ends))]);
  }
  for (const twin of other.corners) {
    if (twin.edge === null || pairs.some(([, two]) => two === twin)) continue;
    pairs.push([carried(side, twin, placesAround(pairs, 1, twin.along, ends)), twin]);
  }
  return pairs.sort(([a], [b]) => a.along - b.along);
}

function unsure({ corner, twin }: { readonly corner: SideCorner; readonly twin: SideCorner }): boolean {
  return (corner.edge === null) !== (twin.edge === null);
}

function keepsOrder(pairs: readonly CornerPair[], corner: SideCorner, twin: SideCorner): boolean {
  return pairs.every(([one, two]) => (one.along - corner.along) * (two.along - twin.along) > 0);
}

/** Where the nearest pairs before and after a place lie: on its own side, and on the other. */
interface Around {
  readonly own: readonly [number, number];
  readonly over: readonly [number, number];
}

function placesAround(
  pairs: readonly CornerPair[],
  which: 0 | 1,
  along: number,
  ends: readonly [number, number],
): Around {
  let before: readonly [number, number] = [0, 0];
  let after: readonly [number, number] = which === 0 ? ends : [ends[1], ends[0]];
  for (const pair of pairs) {
    const at: readonly [number, number] = [pair[which].along, pair[1 - which]!.along];
    if (at[0] <= along && at[0] > before[0]) before = at;
    if (at[0] > along && at[0] < after[0]) after = at;
  }
  return { own: [before[0], after[0]], over: [before[1], after[1]] };
}

/** Where a corner of one side would lie on the other: the nearest place, or at the same share of the way between its neighbours. */
function carried(side: Side, corner: SideCorner, { own, over }: Around): SideCorner {
  const { point, along } = nearestOnPath(side.path, corner.at);
  if (along > over[0] && along < over[1]) return { at: point, along, edge: null };
  const share = (corner.along - own[0]) / (own[1] - own[0]);
  const shared = over[0] + share * (over[1] - over[0]);
  return { at: pathPointAt(side.path, shared).point, along: shared, edge: null };
}
