import { nearestOnPath } from '../../geometry/nearest';
import { endTangent, pathEnd, pathLength, pathStart, startTangent } from '../../geometry/path';
import { add, angleBetween, cross, distance, type Point, scale, subtract } from '../../geometry/point';
import { type CubicSegment, cubic, line } from '../../geometry/segment';
import { samePoint, smoothJoint, straightEdge } from '../../geometry/tolerance';
import type { SideBlend } from '../../pattern/recipe';
import type { TracedSegment } from '../worked';
import type { OpenedSides } from './openedSides';
import { pathOf, splitTraced, tracedLength } from './tracedPath';

/** The redrawn side seam, travelled up from the hem. */
export interface TrueSide {
  readonly segments: readonly TracedSegment[];
  /** The hem corner, and the direction of the seam there. */
  readonly corner: Point;
  readonly up: Point;
  /** Seam length that the blend cuts off at the hinge, given back at the hem, mm. */
  readonly loss: number;
  /** How far the corner lies below the hem of the side strip, mm. */
  readonly shift: number;
}

/** What the seam must not be redrawn across, as points on it. */
export type SeamGuards = readonly Point[];

/**
 * Blends the side seam over the corner at the hinge and moves its hem end along the seam's own direction so that the
 * seam keeps the block's length exactly, plus the maker's `drop`. Null when the hem is taken up past the whole seam.
 *
 * @param guards dart legs on the seam; the blend stops at them.
 */
export function trueSide(
  sides: OpenedSides,
  step: SideBlend,
  drop: number,
  edge: string,
  guards: SeamGuards = [],
): TrueSide | null {
  const { side, block } = sides;
  const blended = blendAtHinge(side, step, edge, guards);
  // Measured against the block, so that the held length does not gather the rounding of the parts.
  const loss = blended === null ? 0 : pathLength(block.side, 1e-10) - tracedLength(blended);
  const shift = loss + drop;
  const segments = withHemEnd(blended ?? side, shift, edge);
  if (segments.length === 0) return null;
  return { segments, corner: pathStart(pathOf(segments)), up: startTangent(pathOf(segments)), loss, shift };
}

/** The seam with a cubic in place of the corner; null when there is no corner or no blend is wanted. */
function blendAtHinge(
  side: readonly TracedSegment[],
  step: SideBlend,
  edge: string,
  guards: SeamGuards,
): TracedSegment[] | null {
  const own = side.filter(({ origin }) => origin.kind === 'own');
  const first = own[0];
  if (first === undefined || first.origin.kind !== 'own') return null;
  const { panel } = first.origin;
  const lower = own.filter(({ origin }) => origin.kind === 'own' && origin.panel === panel);
  const upper = own.slice(lower.length);
  if (upper.length === 0 || (step.up <= 0 && step.down <= 0)) return null;
  const torn = distance(pathEnd(pathOf(lower)), pathStart(pathOf(upper))) > samePoint;
  const bend = angleBetween(endTangent(pathOf(lower)), startTangent(pathOf(upper)));
  if (!torn && Math.abs(bend) < smoothJoint) return null;

  const lowerLength = tracedLength(lower);
  const down = Math.min(step.down, lowerLength, ...guards.map((p) => roomBelow(lower, lowerLength, p)));
  const up = Math.min(step.up, tracedLength(upper), ...guards.map((p) => roomAbove(upper, p)));
  const [kept, cutBelow] = splitTraced(lower, lowerLength - down);
  const [cutAbove, rest] = splitTraced(upper, up);
  const blend = meetingHandles(
    down > 0 ? pathStart(pathOf(cutBelow)) : pathEnd(pathOf(lower)),
    down > 0 ? startTangent(pathOf(cutBelow)) : endTangent(pathOf(lower)),
    up > 0 ? pathEnd(pathOf(cutAbove)) : pathStart(pathOf(upper)),
    up > 0 ? endTangent(pathOf(cutAbove)) : startTangent(pathOf(upper)),
    step.fullness,
  );
  return [...kept, { segment: blend, origin: { kind: 'trued', edges: [edge] } }, ...rest];
}

/** Seam length below the hinge that is free down to a guarded point; unlimited when the point is not on that part. */
function roomBelow(lower: readonly TracedSegment[], length: number, guard: Point): number {
  const near = nearestOnPath(pathOf(lower), guard);
  return near.distance <= straightEdge ? Math.max(length - near.along, 0) : Number.POSITIVE_INFINITY;
}

function roomAbove(upper: readonly TracedSegment[], guard: Point): number {
  const near = nearestOnPath(pathOf(upper), guard);
  return near.distance <= straightEdge ? near.along : Number.POSITIVE_INFINITY;
}

/**
 * The cubic from `start` to `end` with given unit directions whose handles point at the meeting of the two tangents and
 * reach `fullness` of the way. 1 has no curvature at the ends, 2/3 is nearly an arc. Where the tangents do not meet
 * ahead of one and behind the other (a jog), the handles are half the chord.
 */
export function meetingHandles(
  start: Point,
  startDirection: Point,
  end: Point,
  endDirection: Point,
  fullness: number,
): CubicSegment {
  const chord = subtract(end, start);
  const turn = cross(startDirection, endDirection);
  const first = cross(chord, endDirection) / turn;
  const second = cross(startDirection, chord) / turn;
  const reach = distance(start, end);
  const meet = first > 0 && second > 0 && first + second < longestMeeting * reach;
  const a = meet ? fullness * first : reach / 2;
  const b = meet ? fullness * second : reach / 2;
  return cubic(start, add(start, scale(startDirection, a)), add(end, scale(endDirection, -b)), end);
}

/** The way over the meeting point may be this many times the chord; beyond it the tangents are all but parallel. */
const longestMeeting = 3;

/** The seam with its hem end moved along its own direction, down for a positive shift. */
function withHemEnd(side: readonly TracedSegment[], shift: number, edge: string): readonly TracedSegment[] {
  if (shift === 0) return side;
  if (shift < 0) return splitTraced(side, -shift)[1];
  const path = pathOf(side);
  const corner = pathStart(path);
  const lower = add(corner, scale(startTangent(path), -shift));
  return [{ segment: line(lower, corner), origin: { kind: 'trued', edges: [edge] } }, ...side];
}
