import { intersectPaths } from '../../geometry/intersect';
import { nearestOnPath } from '../../geometry/nearest';
import { type Path, reverseSegment, type Segment, subSegment } from '../../geometry/segment';
import { samePoint } from '../../geometry/tolerance';
import type { TracedSegment } from '../worked';

/** A stretch of outline on either side of an overlap, cut back to the outline of both panels laid together. */
export interface JoinedOverlap {
  readonly before: TracedSegment[];
  /** Along the slash edge of the panel that sticks out, from its own edge to the other's. */
  readonly step: Segment[];
  readonly after: TracedSegment[];
}

/**
 * Where two overlapped panels leave the outline: the first that exists of
 * - an end lying on the other's edge (both, where edges run along each other: then `keepsBefore` says whose end it is),
 * - the two edges crossing,
 * - the earlier panel sticking out: down its slash edge to the later panel's edge,
 * - the later panel sticking out, likewise.
 * The sides are the panels' slash edges as placed, from the outline inward. null when the overlap swallows a whole edge.
 */
export function joinOverlap(
  before: readonly TracedSegment[],
  after: readonly TracedSegment[],
  beforeSide: Path,
  afterSide: Path,
  keepsBefore: boolean,
): JoinedOverlap | null {
  const a = before.map(({ segment }) => segment);
  const b = after.map(({ segment }) => segment);
  const endOnB = nearestOnPath(b, a[a.length - 1]!.end);
  const startOnA = nearestOnPath(a, b[0]!.start);
  const startLies = startOnA.distance <= samePoint;
  if (endOnB.distance <= samePoint && (keepsBefore || !startLies)) {
    return { before: [...before], step: [], after: fromPlace(after, endOnB.segment, endOnB.t) };
  }
  if (startLies) return { before: upToPlace(before, startOnA.segment, startOnA.t), step: [], after: [...after] };
  const crossing = intersectPaths(a, b).at(-1);
  if (crossing !== undefined) {
    return {
      before: upToPlace(before, crossing.segmentA, crossing.ta),
      step: [],
      after: fromPlace(after, crossing.segmentB, crossing.tb),
    };
  }
  const down = intersectPaths(beforeSide, b)[0];
  if (down !== undefined) {
    const step = pathUpTo(beforeSide, down.segmentA, down.ta);
    return { before: [...before], step, after: fromPlace(after, down.segmentB, down.tb) };
  }
  const up = intersectPaths(afterSide, a)[0];
  if (up === undefined) return null;
  const step = pathUpTo(afterSide, up.segmentA, up.ta).map(reverseSegment).reverse();
  return { before: upToPlace(before, up.segmentB, up.tb), step, after: [...after] };
}

function pathUpTo(path: Path, index: number, t: number): Segment[] {
  const head = path.slice(0, index);
  return t > 0 ? [...head, subSegment(path[index]!, 0, t)] : head;
}

function upToPlace(run: readonly TracedSegment[], index: number, t: number): TracedSegment[] {
  const head = run.slice(0, index);
  return t > 0 ? [...head, stretchOf(run[index]!, 0, t)] : head;
}

function fromPlace(run: readonly TracedSegment[], index: number, t: number): TracedSegment[] {
  const tail = run.slice(index + 1);
  return t < 1 ? [stretchOf(run[index]!, t, 1), ...tail] : tail;
}

/** Part of a traced segment; its own parameters on the block edge follow. */
export function stretchOf({ segment, origin }: TracedSegment, t0: number, t1: number): TracedSegment {
  const part = subSegment(segment, t0, t1);
  if (origin.kind !== 'own') return { segment: part, origin };
  const { from, to } = origin;
  const at = (t: number) => (t === 0 ? from : t === 1 ? to : from + (to - from) * t);
  return { segment: part, origin: { ...origin, from: at(t0), to: at(t1) } };
}
