import { intersectSegments } from '../../geometry/intersect';
import { distance, type Point } from '../../geometry/point';
import type { Segment } from '../../geometry/segment';
import { jointClearance } from '../../geometry/tolerance';

/** A closed outline whose segments each belong to a rigid body; a body below 0 is compared with every other segment. */
export interface OutlineBodies {
  readonly segments: readonly Segment[];
  readonly bodies: readonly number[];
}

/**
 * Whether a closed outline meets itself anywhere but at its joints. Segments of one body moved together and were apart
 * before, so they are not compared with each other.
 *
 * The outline is halved again and again in its own order; stretches whose boxes lie apart are passed over whole, so the
 * work grows about in step with the number of segments.
 */
export function outlineMeetsItself({ segments, bodies }: OutlineBodies): boolean {
  return segments.length > 1 && meetsWithin(stretchTree(segments, bodies, 0, segments.length), segments);
}

interface OutlineStretch {
  readonly low: number;
  readonly high: number;
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  /** The one body of all its segments, or -1. */
  readonly body: number;
  readonly halves: readonly [OutlineStretch, OutlineStretch] | null;
}

function stretchTree(
  segments: readonly Segment[],
  bodies: readonly number[],
  low: number,
  high: number,
): OutlineStretch {
  if (high - low === 1) {
    const segment = segments[low]!;
    const { start, end } = segment;
    const c1 = segment.kind === 'cubic' ? segment.control1 : start;
    const c2 = segment.kind === 'cubic' ? segment.control2 : end;
    return {
      low,
      high,
      minX: Math.min(start.x, c1.x, c2.x, end.x),
      minY: Math.min(start.y, c1.y, c2.y, end.y),
      maxX: Math.max(start.x, c1.x, c2.x, end.x),
      maxY: Math.max(start.y, c1.y, c2.y, end.y),
      body: bodies[low]!,
      halves: null,
    };
  }
  const middle = (low + high) >> 1;
  const a = stretchTree(segments, bodies, low, middle);
  const b = stretchTree(segments, bodies, middle, high);
  return {
    low,
    high,
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
    body: a.body === b.body ? a.body : -1,
    halves: [a, b],
  };
}

function meetsWithin(stretch: OutlineStretch, segments: readonly Segment[]): boolean {
  if (stretch.halves === null || stretch.body >= 0) return false;
  const [a, b] = stretch.halves;
  return meetsWithin(a, segments) || meetsWithin(b, segments) || meetEachOther(a, b, segments);
}

function meetEachOther(a: OutlineStretch, b: OutlineStretch, segments: readonly Segment[]): boolean {
  if (a.body >= 0 && a.body === b.body) return false;
  if (a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY) return false;
  if (a.halves === null && b.halves === null) return segmentsMeet(a.low, b.low, segments);
  if (b.halves === null || (a.halves !== null && a.high - a.low >= b.high - b.low)) {
    return meetEachOther(a.halves![0], b, segments) || meetEachOther(a.halves![1], b, segments);
  }
  return meetEachOther(a, b.halves[0], segments) || meetEachOther(a, b.halves[1], segments);
}

function segmentsMeet(i: number, j: number, segments: readonly Segment[]): boolean {
  const a = segments[i]!;
  const b = segments[j]!;
  const last = segments.length - 1;
  const joints: Point[] = [];
  if (j === i + 1) joints.push(a.end);
  if (i === 0 && j === last) joints.push(a.start);
  if (joints.length === 1 && liesAhead(j === i + 1 ? a : b, j === i + 1 ? b : a)) return false;
  return intersectSegments(a, b).some(({ point }) => joints.every((joint) => distance(joint, point) > jointClearance));
}

/** Whether a straight line through the joint keeps the two segments apart, by their control points. */
function liesAhead(before: Segment, after: Segment): boolean {
  const joint = before.end;
  const nx = after.end.x - before.start.x;
  const ny = after.end.y - before.start.y;
  const ahead = (p: Point) => (p.x - joint.x) * nx + (p.y - joint.y) * ny;
  const handlesBefore = before.kind === 'cubic' ? [before.control1, before.control2] : [];
  const handlesAfter = after.kind === 'cubic' ? [after.control1, after.control2] : [];
  return (
    ahead(before.start) < 0 &&
    ahead(after.end) > 0 &&
    handlesBefore.every((p) => ahead(p) <= 0) &&
    handlesAfter.every((p) => ahead(p) >= 0)
  );
}
