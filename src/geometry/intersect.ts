import { type Bounds, boundsMeet, segmentBounds } from './bounds';
import { cubicMeetings, type ParameterPair } from './cubicMeeting';
import { nearestOnSegment } from './nearest';
import { distance, type Point, subtract, unit } from './point';
import { bernsteinRoots } from './polynomial';
import { type CubicSegment, type LineSegment, type Path, type Segment, segmentPointAt } from './segment';
import { advanceTogether, cubicLoop } from './selfCrossing';
import { jointClearance, samePoint, touchDistance, touchMerge } from './tolerance';

/** A common point of two segments, with its parameter on each. */
export interface SegmentMeeting {
  readonly ta: number;
  readonly tb: number;
  readonly point: Point;
}

/** A common point of two paths. */
export interface PathMeeting extends SegmentMeeting {
  readonly segmentA: number;
  readonly segmentB: number;
}

/** A crossing of an infinite line with a path; `along` is its position on the line from `through`, mm. */
export interface LineCrossing {
  readonly segment: number;
  readonly t: number;
  readonly point: Point;
  readonly along: number;
}

/**
 * Common points of two segments, in order along the first. Touches and shared ends are reported once, an end as
 * exactly 0 or 1. Segments that run along each other for a stretch are reported by the two ends of the stretch.
 */
export function intersectSegments(a: Segment, b: Segment): SegmentMeeting[] {
  if (!boundsMeet(controlBounds(a), controlBounds(b), touchDistance)) return [];
  const atEnds = endMeetings(a, b);
  const stretch = commonStretch(a, b, atEnds);
  if (stretch !== null) return stretch;
  let inside: ParameterPair[];
  if (a.kind === 'line') {
    inside = b.kind === 'line' ? lineLine(a, b) : lineCubic(a, b);
  } else {
    inside = b.kind === 'line' ? lineCubic(b, a).map(({ ta, tb }) => ({ ta: tb, tb: ta })) : cubicMeetings(a, b);
  }
  const merged: ParameterPair[] = [...atEnds];
  for (const pair of inside) {
    if (!merged.some((known) => sameMeeting(a, b, known, pair))) merged.push(pair);
  }
  return merged.sort((p, q) => p.ta - q.ta || p.tb - q.tb).map((pair) => meetingOf(a, b, pair));
}

/** Common points of two paths, in order along the first; a joint of a path is reported once. */
export function intersectPaths(a: Path, b: Path): PathMeeting[] {
  const boxes = b.map(segmentBounds);
  const found: PathMeeting[] = [];
  a.forEach((segment, segmentA) => {
    const box = segmentBounds(segment);
    b.forEach((other, segmentB) => {
      if (!boundsMeet(box, boxes[segmentB]!, touchDistance)) return;
      for (const meeting of intersectSegments(segment, other)) {
        const again = found.some(
          (known) =>
            distance(known.point, meeting.point) <= samePoint &&
            samePlace(a.length, known.segmentA, known.ta, segmentA, meeting.ta) &&
            samePlace(b.length, known.segmentB, known.tb, segmentB, meeting.tb),
        );
        if (!again) found.push({ ...meeting, segmentA, segmentB });
      }
    });
  });
  return found.sort((p, q) => p.segmentA - q.segmentA || p.ta - q.ta);
}

/**
 * Crossings of the infinite line through `through` along `direction` (any length) with a path, sorted along the line.
 * A joint on the line is reported once, as the start of the segment that leaves it (the end of an open path as its
 * end). Touches are included. A segment lying on the line is reported by its two ends.
 */
export function intersectLineWithPath(through: Point, direction: Point, path: Path): LineCrossing[] {
  const along = unit(direction);
  const height = (p: Point) => along.x * (p.y - through.y) - along.y * (p.x - through.x);
  const found: LineCrossing[] = [];
  path.forEach((segment, index) => {
    if (isDot(segment)) return;
    const heights =
      segment.kind === 'line'
        ? [height(segment.start), height(segment.end)]
        : [height(segment.start), height(segment.control1), height(segment.control2), height(segment.end)];
    for (const t of bernsteinRoots(heights, touchDistance)) {
      const at = segmentPointAt(segment, t);
      found.push({
        segment: index,
        t,
        point: at,
        along: (at.x - through.x) * along.x + (at.y - through.y) * along.y,
      });
    }
  });
  const atJoint = (crossing: LineCrossing) =>
    found.some((other) => other.t === 0 && distance(other.point, crossing.point) <= samePoint);
  const kept = found.filter((crossing) => crossing.t !== 1 || !atJoint(crossing));
  return kept.sort((p, q) => p.along - q.along);
}

/**
 * Points where a path meets itself, other than at the joints of its neighbouring segments: crossings, touches, the far
 * ends of stretches run twice, and loops inside one cubic. A path whose end is its start is taken as closed. Empty for
 * a simple outline.
 */
export function selfIntersections(path: Path): Point[] {
  const segments = path.filter((segment) => !isDot(segment));
  const count = segments.length;
  const found: Point[] = [];
  const note = (at: Point) => {
    if (!found.some((known) => distance(known, at) <= samePoint)) found.push(at);
  };
  if (count === 0) return found;
  const closed = distance(segments[0]!.start, segments[count - 1]!.end) <= samePoint;
  for (const segment of segments) {
    const loop = segment.kind === 'cubic' ? cubicLoop(segment) : null;
    if (loop !== null) note(loop);
  }
  // Sweep from left to right: only boxes that overlap in x are compared.
  const boxes = segments.map(controlBounds);
  const order = segments.map((_, i) => i).sort((i, j) => boxes[i]!.minX - boxes[j]!.minX);
  let open: number[] = [];
  for (const i of order) {
    const box = boxes[i]!;
    open = open.filter((j) => boxes[j]!.maxX + touchDistance >= box.minX);
    for (const j of open) {
      if (boundsMeet(box, boxes[j]!, touchDistance)) {
        const [first, second] = i < j ? [i, j] : [j, i];
        const follows = second === first + 1;
        const closes = closed && first === 0 && second === count - 1;
        for (const at of meetingsBeyondJoints(segments[first]!, segments[second]!, follows, closes)) note(at);
      }
    }
    open.push(i);
  }
  return found;
}

/** Meetings of two segments of a path; `follows` if the second leaves the first's end, `closes` if the first leaves the second's end. */
function meetingsBeyondJoints(first: Segment, second: Segment, follows: boolean, closes: boolean): Point[] {
  if (follows !== closes && (follows ? advanceTogether(first, second) : advanceTogether(second, first))) return [];
  return intersectSegments(first, second)
    .map((meeting) => meeting.point)
    .filter(
      (at) =>
        !(follows && distance(at, first.end) <= jointClearance) &&
        !(closes && distance(at, first.start) <= jointClearance),
    );
}

function isDot(segment: Segment): boolean {
  const box = controlBounds(segment);
  return box.maxX - box.minX <= samePoint && box.maxY - box.minY <= samePoint;
}

function samePlace(count: number, segmentP: number, tp: number, segmentQ: number, tq: number): boolean {
  if (segmentP === segmentQ) return Math.abs(tp - tq) < 1e-3;
  const joint = (from: number, tFrom: number, to: number, tTo: number) =>
    to === (from + 1) % count && tFrom === 1 && tTo === 0;
  return joint(segmentP, tp, segmentQ, tq) || joint(segmentQ, tq, segmentP, tp);
}

function controlBounds(segment: Segment): Bounds {
  const { start, end } = segment;
  const c1 = segment.kind === 'cubic' ? segment.control1 : start;
  const c2 = segment.kind === 'cubic' ? segment.control2 : end;
  return {
    minX: Math.min(start.x, end.x, c1.x, c2.x),
    minY: Math.min(start.y, end.y, c1.y, c2.y),
    maxX: Math.max(start.x, end.x, c1.x, c2.x),
    maxY: Math.max(start.y, end.y, c1.y, c2.y),
  };
}

function meetingOf(a: Segment, b: Segment, { ta, tb }: ParameterPair): SegmentMeeting {
  // An end is an exact point of its segment; take the point from there.
  const point = (tb === 0 || tb === 1) && ta !== 0 && ta !== 1 ? segmentPointAt(b, tb) : segmentPointAt(a, ta);
  return { ta, tb, point };
}

/** Ends of either segment that lie on the other, within the touching distance; the other parameter snaps to its end. */
function endMeetings(a: Segment, b: Segment): ParameterPair[] {
  const pairs: ParameterPair[] = [];
  const add = (pair: ParameterPair) => {
    if (!pairs.some((known) => sameMeeting(a, b, known, pair))) pairs.push(pair);
  };
  for (const ta of isDot(a) ? [0] : [0, 1]) {
    const at = ta === 0 ? a.start : a.end;
    if (!nearBox(b, at)) continue;
    const near = nearestOnSegment(b, at);
    if (near.distance <= touchDistance) add({ ta, tb: snapToEnd(b, near.t, near.point) });
  }
  for (const tb of isDot(b) ? [0] : [0, 1]) {
    const at = tb === 0 ? b.start : b.end;
    if (!nearBox(a, at)) continue;
    const near = nearestOnSegment(a, at);
    if (near.distance <= touchDistance) add({ ta: snapToEnd(a, near.t, near.point), tb });
  }
  return pairs;
}

function nearBox(segment: Segment, p: Point): boolean {
  const box = { minX: p.x, minY: p.y, maxX: p.x, maxY: p.y };
  return boundsMeet(controlBounds(segment), box, touchDistance);
}

function snapToEnd(segment: Segment, t: number, at: Point): number {
  if (t < 0.5 && distance(at, segment.start) <= touchDistance) return 0;
  if (t > 0.5 && distance(at, segment.end) <= touchDistance) return 1;
  return t;
}

/** If the segments coincide between two of the meetings at their ends, those two; otherwise null. */
function commonStretch(a: Segment, b: Segment, atEnds: readonly ParameterPair[]): SegmentMeeting[] | null {
  if (atEnds.length < 2) return null;
  const sorted = [...atEnds].sort((p, q) => p.ta - q.ta);
  const first = sorted[0]!;
  const last = sorted[sorted.length - 1]!;
  if (last.ta - first.ta < 1e-12) return null;
  for (const part of [0.2, 0.5, 0.7]) {
    const at = segmentPointAt(a, first.ta + part * (last.ta - first.ta));
    if (nearestOnSegment(b, at).distance > touchDistance) return null;
  }
  return [meetingOf(a, b, first), meetingOf(a, b, last)];
}

function sameMeeting(a: Segment, b: Segment, p: ParameterPair, q: ParameterPair): boolean {
  const between = distance(segmentPointAt(a, p.ta), segmentPointAt(a, q.ta));
  if (between > touchMerge || Math.abs(p.ta - q.ta) > 0.1 || Math.abs(p.tb - q.tb) > 0.1) return false;
  if (between <= samePoint) return true;
  const middle = distance(segmentPointAt(a, (p.ta + q.ta) / 2), segmentPointAt(b, (p.tb + q.tb) / 2));
  return middle <= touchDistance;
}

function lineLine(a: LineSegment, b: LineSegment): ParameterPair[] {
  const u = subtract(a.end, a.start);
  const v = subtract(b.end, b.start);
  const w = subtract(b.start, a.start);
  const determinant = u.x * v.y - u.y * v.x;
  if (determinant === 0) return [];
  const ta = (w.x * v.y - w.y * v.x) / determinant;
  const tb = (w.x * u.y - w.y * u.x) / determinant;
  return ta >= 0 && ta <= 1 && tb >= 0 && tb <= 1 ? [{ ta, tb }] : [];
}

function lineCubic(a: LineSegment, b: CubicSegment): ParameterPair[] {
  const length = distance(a.start, a.end);
  if (length === 0) return [];
  const ux = (a.end.x - a.start.x) / length;
  const uy = (a.end.y - a.start.y) / length;
  const height = (p: Point) => ux * (p.y - a.start.y) - uy * (p.x - a.start.x);
  const pairs: ParameterPair[] = [];
  for (const tb of bernsteinRoots(
    [height(b.start), height(b.control1), height(b.control2), height(b.end)],
    touchDistance,
  )) {
    const at = segmentPointAt(b, tb);
    const ta = ((at.x - a.start.x) * ux + (at.y - a.start.y) * uy) / length;
    if (ta >= 0 && ta <= 1) pairs.push({ ta, tb });
  }
  return pairs;
}
