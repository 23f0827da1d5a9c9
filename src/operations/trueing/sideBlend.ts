import { nearestOnPath } from '../../geometry/nearest';
import { endTangent, pathEnd, pathLength, pathStart, startTangent } from '../../geometry/path';
import { add, angleBetween, cross, distance, type Point, scale, subtract } from '../../geometry/point';
import { type CubicSegment, cubic, line, type Segment } from '../../geometry/segment';
import { samePoint, shortestBlend, smoothJoint, straightEdge } from '../../geometry/tolerance';
import type { SideBlend } from '../../pattern/recipe';
import type { TracedSegment } from '../worked';
import type { OpenedSides } from './openedSides';
import { pathOf, splitTraced, type TracedPath, tracedLength } from './tracedPath';

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

export interface SideOptions {
  readonly blend: SideBlend;
  /** Length added by the maker at the hem end, mm. */
  readonly drop: number;
  /** Edge id, for provenance. */
  readonly edge: string;
  /** A hinge torn open along the seam is closed by the blend; gaps of any other kind are cloth and stay. */
  readonly closeTears: boolean;
  readonly guards: SeamGuards;
}

/**
 * Blends the side seam over its corners at hinges and moves its hem end along the seam's own direction so that the seam
 * keeps the length it had before (the block's, and gaps that are cloth) exactly, plus the maker's drop. Null when the
 * hem is taken up past the whole seam.
 */
export function trueSide(sides: OpenedSides, options: SideOptions): TrueSide | null {
  const { block, side } = sides;
  const runs = runsOf(side);
  const blended = blendCorners(runs, options);
  // Measured against the block, so that the held length does not gather the rounding of the parts.
  const cloth = options.closeTears ? 0 : tracedLength(runs.flatMap(({ bridge }) => bridge));
  const loss = blended === null ? 0 : pathLength(block.side, 1e-10) + cloth - tracedLength(blended);
  const shift = loss + options.drop;
  const segments = withHemEnd(blended ?? side, shift, options.edge);
  if (segments === null) return null;
  return { segments, corner: pathStart(pathOf(segments)), up: startTangent(pathOf(segments)), loss, shift };
}

/** A stretch of seam on one panel, and what bridges the way to the next one. */
interface SeamRun {
  readonly own: readonly TracedSegment[];
  readonly bridge: readonly TracedSegment[];
}

function runsOf(side: TracedPath): SeamRun[] {
  const runs: { own: TracedSegment[]; bridge: TracedSegment[]; panel: number }[] = [];
  for (const traced of side) {
    const last = runs[runs.length - 1];
    const { origin } = traced;
    if (origin.kind !== 'own') last?.bridge.push(traced);
    else if (last !== undefined && last.panel === origin.panel && last.bridge.length === 0) last.own.push(traced);
    else runs.push({ own: [traced], bridge: [], panel: origin.panel });
  }
  return runs;
}

/** How far a blend reaches from its corner, mm along the seam. */
interface BlendLegs {
  readonly down: number;
  readonly up: number;
}

/** The legs of the blend between a run and the next one; null where the corner is to stay, or where there is none. */
function legsBetween(run: SeamRun, next: SeamRun | undefined, options: SideOptions): BlendLegs | null {
  const { blend, closeTears, guards } = options;
  if (next === undefined) return null;
  const length = tracedLength(run.own);
  const down = usable(Math.min(blend.down, length, ...guards.map((p) => roomBelow(run.own, length, p))));
  const up = usable(Math.min(blend.up, tracedLength(next.own), ...guards.map((p) => roomAbove(next.own, p))));
  if (run.bridge.length > 0) return closeTears && (down > 0 || up > 0) ? { down, up } : null;
  // A blend that ends in the corner itself would leave the corner there.
  if (down === 0 || up === 0) return null;
  const bend = angleBetween(endTangent(pathOf(run.own)), startTangent(pathOf(next.own)));
  return Math.abs(bend) < smoothJoint ? null : { down, up };
}

function usable(leg: number): number {
  return leg < shortestBlend ? 0 : leg;
}

/** The seam with a cubic in place of every corner that is to be blended; null when there is none. */
function blendCorners(runs: readonly SeamRun[], options: SideOptions): TracedSegment[] | null {
  const legs = runs.map((run, index) => legsBetween(run, runs[index + 1], options));
  if (legs.every((one) => one === null)) return null;
  // A run between two corners is shared by their blends.
  const most = runs.map(({ own }, index) =>
    legs[index - 1] && legs[index] ? tracedLength(own) / 2 : Number.POSITIVE_INFINITY,
  );
  const result: TracedSegment[] = [];
  let rest: readonly TracedSegment[] = runs[0]!.own;
  runs.forEach((run, index) => {
    const next = runs[index + 1];
    const corner = legs[index];
    if (next === undefined || !corner) {
      result.push(...rest, ...run.bridge);
      rest = next?.own ?? [];
      return;
    }
    const [kept, cutBelow] = splitTraced(rest, tracedLength(rest) - Math.min(corner.down, most[index]!));
    const [cutAbove, above] = splitTraced(next.own, Math.min(corner.up, most[index + 1]!));
    const segment = meetingHandles(
      cutBelow.length > 0 ? pathStart(pathOf(cutBelow)) : pathEnd(pathOf(run.own)),
      cutBelow.length > 0 ? startTangent(pathOf(cutBelow)) : endTangent(pathOf(run.own)),
      cutAbove.length > 0 ? pathEnd(pathOf(cutAbove)) : pathStart(pathOf(next.own)),
      cutAbove.length > 0 ? endTangent(pathOf(cutAbove)) : startTangent(pathOf(next.own)),
      options.blend.fullness,
    );
    result.push(...kept, { segment, origin: { kind: 'trued', edges: [options.edge] } });
    rest = above;
  });
  return result;
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

/**
 * The seam with its hem end moved along its own direction, down for a positive shift; null when nothing would be left.
 * A shift too small to draw, and the remainder of a cut at a joint, moves the end itself.
 */
function withHemEnd(side: TracedPath, shift: number, edge: string): TracedPath | null {
  if (shift === 0) return side;
  if (shift > samePoint) {
    const corner = pathStart(pathOf(side));
    const lower = add(corner, scale(startTangent(pathOf(side)), -shift));
    return [{ segment: line(lower, corner), origin: { kind: 'trued', edges: [edge] } }, ...side];
  }
  const wanted = tracedLength(side) + shift;
  let [first, ...rest] = splitTraced(side, -shift)[1];
  if (first === undefined) return null;
  const restLength = tracedLength(rest);
  // Moving the end of a curve changes its length almost, not exactly, by as much; the second round settles it.
  for (let round = 0; round < 3; round++) {
    const segment: Segment = first.segment;
    const left: number = wanted - restLength - tracedLength([first]);
    if (left === 0) break;
    const start: Point = add(segment.start, scale(startTangent([segment]), -left));
    first = { ...first, segment: { ...segment, start } };
  }
  return [first, ...rest];
}
