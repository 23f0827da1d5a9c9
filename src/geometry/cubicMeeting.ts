import type { Point } from './point';
import {
  type CubicSegment,
  segmentDerivativeAt,
  segmentPointAt,
  segmentSecondDerivativeAt,
  splitSegment,
} from './segment';
import { maxPairTests, samePoint, touchDistance, touchResolution } from './tolerance';

/** Parameters of a common point of two curves. */
export interface ParameterPair {
  readonly ta: number;
  readonly tb: number;
}

interface Part {
  readonly curve: CubicSegment;
  readonly t0: number;
  readonly t1: number;
}

/**
 * Where two cubics meet, as raw parameter pairs (touches may come more than once; the caller merges them).
 *
 * Both curves are halved as long as the boxes and the strips along the chords of their parts overlap. Parts whose
 * directions of travel have no line direction in common meet at most once (Sederberg and Meyers, Loop detection in
 * surface patch intersections, 1988, used for curves): there Newton finds the point. Where the directions agree the
 * place of parallel tangents is sought and is a touch when the gap there is at most 1e-9 mm.
 */
export function cubicMeetings(a: CubicSegment, b: CubicSegment): ParameterPair[] {
  const found: ParameterPair[] = [];
  // Curves that are themselves tiny are resolved in proportion.
  const resolution = Math.max(samePoint, touchResolution * Math.min(1, reach(a), reach(b)));
  const stack: [Part, Part][] = [
    [
      { curve: a, t0: 0, t1: 1 },
      { curve: b, t0: 0, t1: 1 },
    ],
  ];
  for (let tests = 0; stack.length > 0 && tests < maxPairTests; tests++) {
    const [partA, partB] = stack.pop()!;
    if (apart(partA.curve, partB.curve)) continue;
    if (crossDirections(partA.curve, partB.curve)) {
      const meeting = newtonMeeting(a, b, partA, partB);
      if (meeting !== null) {
        found.push(meeting);
        continue;
      }
    } else {
      const touch = parallelPlace(a, b, partA, partB);
      if (touch !== null) found.push(touch);
    }
    const sizeA = reach(partA.curve);
    const sizeB = reach(partB.curve);
    if (sizeA <= resolution && sizeB <= resolution) {
      const meeting = newtonMeeting(a, b, partA, partB) ?? shallowCrossing(a, b, partA, partB);
      if (meeting !== null) found.push(meeting);
      continue;
    }
    const halvesA = sizeA * 2 >= sizeB ? halve(partA) : [partA];
    const halvesB = sizeB * 2 >= sizeA ? halve(partB) : [partB];
    for (const halfA of halvesA) for (const halfB of halvesB) stack.push([halfA, halfB]);
  }
  return found;
}

function halve(part: Part): Part[] {
  const [head, tail] = splitSegment(part.curve, 0.5) as [CubicSegment, CubicSegment];
  const middle = (part.t0 + part.t1) / 2;
  return [
    { curve: head, t0: part.t0, t1: middle },
    { curve: tail, t0: middle, t1: part.t1 },
  ];
}

/** Largest side of the box round the control points, mm. */
function reach(c: CubicSegment): number {
  const dx =
    Math.max(c.start.x, c.control1.x, c.control2.x, c.end.x) - Math.min(c.start.x, c.control1.x, c.control2.x, c.end.x);
  const dy =
    Math.max(c.start.y, c.control1.y, c.control2.y, c.end.y) - Math.min(c.start.y, c.control1.y, c.control2.y, c.end.y);
  return Math.max(dx, dy);
}

/** Whether boxes, or strips along either chord, show that the curves do not come within the touching distance. */
function apart(a: CubicSegment, b: CubicSegment): boolean {
  if (separatedAlong(a, b, 1, 0) || separatedAlong(a, b, 0, 1)) return true;
  return separatedAcrossChord(a, b) || separatedAcrossChord(b, a);
}

function separatedAcrossChord(of: CubicSegment, other: CubicSegment): boolean {
  const dx = of.end.x - of.start.x;
  const dy = of.end.y - of.start.y;
  const length = Math.sqrt(dx * dx + dy * dy);
  return length > 0 && separatedAlong(of, other, -dy / length, dx / length);
}

function separatedAlong(a: CubicSegment, b: CubicSegment, nx: number, ny: number): boolean {
  const a0 = a.start.x * nx + a.start.y * ny;
  const a1 = a.control1.x * nx + a.control1.y * ny;
  const a2 = a.control2.x * nx + a.control2.y * ny;
  const a3 = a.end.x * nx + a.end.y * ny;
  const b0 = b.start.x * nx + b.start.y * ny;
  const b1 = b.control1.x * nx + b.control1.y * ny;
  const b2 = b.control2.x * nx + b.control2.y * ny;
  const b3 = b.end.x * nx + b.end.y * ny;
  return (
    Math.min(a0, a1, a2, a3) > Math.max(b0, b1, b2, b3) + touchDistance ||
    Math.min(b0, b1, b2, b3) > Math.max(a0, a1, a2, a3) + touchDistance
  );
}

/** Whether every direction of travel of one differs from every direction of travel (either way) of the other. */
function crossDirections(a: CubicSegment, b: CubicSegment): boolean {
  const coneA = directionCone(a);
  const coneB = directionCone(b);
  if (coneA === null || coneB === null) return false;
  // Angle between the middle lines, folded to [0, pi/2].
  let between = Math.abs(coneA.middle - coneB.middle) % Math.PI;
  if (between > Math.PI / 2) between = Math.PI - between;
  return between > coneA.spread + coneB.spread;
}

/** The directions of travel of a part lie within `spread` of `middle`, radians; null when they spread too far to say. */
function directionCone(c: CubicSegment): { readonly middle: number; readonly spread: number } | null {
  const dx = c.end.x - c.start.x;
  const dy = c.end.y - c.start.y;
  let spread = 0;
  const legs: [Point, Point][] = [
    [c.start, c.control1],
    [c.control1, c.control2],
    [c.control2, c.end],
  ];
  for (const [from, to] of legs) {
    const ex = to.x - from.x;
    const ey = to.y - from.y;
    if (ex === 0 && ey === 0) continue;
    const off = Math.abs(Math.atan2(dx * ey - dy * ex, dx * ex + dy * ey));
    if (off > spread) spread = off;
  }
  return spread < Math.PI / 4 ? { middle: Math.atan2(dy, dx), spread } : null;
}

/** Newton for A(ta) = B(tb) from the middle of the parts; null unless it settles inside them with the curves touching. */
function newtonMeeting(a: CubicSegment, b: CubicSegment, partA: Part, partB: Part): ParameterPair | null {
  let ta = (partA.t0 + partA.t1) / 2;
  let tb = (partB.t0 + partB.t1) / 2;
  for (let step = 0; step < 12; step++) {
    const p = segmentPointAt(a, ta);
    const q = segmentPointAt(b, tb);
    const u = segmentDerivativeAt(a, ta);
    const v = segmentDerivativeAt(b, tb);
    const gapX = q.x - p.x;
    const gapY = q.y - p.y;
    const determinant = v.x * u.y - u.x * v.y;
    if (determinant === 0) return null;
    const changeA = (v.x * gapY - v.y * gapX) / determinant;
    const changeB = (u.x * gapY - u.y * gapX) / determinant;
    ta += changeA;
    tb += changeB;
    if (farOff(ta, partA) || farOff(tb, partB)) return null;
    if (Math.abs(changeA) < 1e-15 && Math.abs(changeB) < 1e-15) break;
  }
  return settled(a, b, ta, tb, partA, partB);
}

/**
 * Newton for the place where the tangents are parallel and the gap stands square to them: the touch, if there is one.
 */
function parallelPlace(a: CubicSegment, b: CubicSegment, partA: Part, partB: Part): ParameterPair | null {
  let ta = (partA.t0 + partA.t1) / 2;
  let tb = (partB.t0 + partB.t1) / 2;
  for (let step = 0; step < 12; step++) {
    const p = segmentPointAt(a, ta);
    const q = segmentPointAt(b, tb);
    const u = segmentDerivativeAt(a, ta);
    const v = segmentDerivativeAt(b, tb);
    const uu = segmentSecondDerivativeAt(a, ta);
    const vv = segmentSecondDerivativeAt(b, tb);
    const gx = p.x - q.x;
    const gy = p.y - q.y;
    const f = u.x * v.y - u.y * v.x;
    const g = gx * u.x + gy * u.y;
    const fa = uu.x * v.y - uu.y * v.x;
    const fb = u.x * vv.y - u.y * vv.x;
    const ga = u.x * u.x + u.y * u.y + gx * uu.x + gy * uu.y;
    const gb = -(v.x * u.x + v.y * u.y);
    const determinant = fa * gb - fb * ga;
    if (determinant === 0) return null;
    const changeA = (f * gb - fb * g) / determinant;
    const changeB = (fa * g - f * ga) / determinant;
    ta -= changeA;
    tb -= changeB;
    if (farOff(ta, partA) || farOff(tb, partB)) return null;
    if (Math.abs(changeA) < 1e-14 && Math.abs(changeB) < 1e-14) break;
  }
  return settled(a, b, ta, tb, partA, partB);
}

/**
 * A crossing so shallow that Newton loses it: where the gap from b, measured square to b, changes sign along part A.
 */
function shallowCrossing(a: CubicSegment, b: CubicSegment, partA: Part, partB: Part): ParameterPair | null {
  let low = partA.t0;
  let high = partA.t1;
  const first = gapFrom(b, segmentPointAt(a, low), partB);
  const last = gapFrom(b, segmentPointAt(a, high), partB);
  if (first === null || last === null || first.gap > 0 === last.gap > 0) return null;
  let { tb } = first;
  for (let step = 0; step < 60 && high - low > 1e-16; step++) {
    const middle = (low + high) / 2;
    const at = gapFrom(b, segmentPointAt(a, middle), partB);
    if (at === null) return null;
    if (at.gap > 0 === first.gap > 0) low = middle;
    else high = middle;
    tb = at.tb;
  }
  return settled(a, b, (low + high) / 2, tb, partA, partB);
}

/** Signed distance of p from b, and its foot, near a part of b; null if the foot is not there. */
function gapFrom(b: CubicSegment, p: Point, part: Part): { readonly gap: number; readonly tb: number } | null {
  let tb = (part.t0 + part.t1) / 2;
  for (let step = 0; step < 4; step++) {
    const q = segmentPointAt(b, tb);
    const v = segmentDerivativeAt(b, tb);
    tb += ((p.x - q.x) * v.x + (p.y - q.y) * v.y) / (v.x * v.x + v.y * v.y);
    if (farOff(tb, part)) return null;
  }
  const q = segmentPointAt(b, tb);
  const v = segmentDerivativeAt(b, tb);
  return { gap: (v.x * (p.y - q.y) - v.y * (p.x - q.x)) / Math.sqrt(v.x * v.x + v.y * v.y), tb };
}

/** Newton that has left its part by more than the part's own size is after another place; other parts look there. */
function farOff(t: number, part: Part): boolean {
  const size = part.t1 - part.t0;
  return !(t > part.t0 - size && t < part.t1 + size);
}

function settled(
  a: CubicSegment,
  b: CubicSegment,
  ta: number,
  tb: number,
  partA: Part,
  partB: Part,
): ParameterPair | null {
  // A hair of slack, so that a point on the border of two parts is not lost by both.
  const slackA = 1e-3 * (partA.t1 - partA.t0);
  const slackB = 1e-3 * (partB.t1 - partB.t0);
  if (ta < partA.t0 - slackA || ta > partA.t1 + slackA || tb < partB.t0 - slackB || tb > partB.t1 + slackB) return null;
  const onA = Math.min(1, Math.max(0, ta));
  const onB = Math.min(1, Math.max(0, tb));
  const p = segmentPointAt(a, onA);
  const q = segmentPointAt(b, onB);
  return Math.hypot(p.x - q.x, p.y - q.y) <= touchDistance ? { ta: onA, tb: onB } : null;
}
