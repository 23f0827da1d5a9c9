import { quadraticRoots } from './bounds';
import { angleBetween, cross, dot, norm, type Point, subtract, unit } from './point';
import { type CubicSegment, type Path, type Segment, segmentDerivativeAt, segmentSecondDerivativeAt } from './segment';
import { unitTangentAt } from './tangent';
import { straightTurn } from './tolerance';

/**
 * Signed curvature at parameter t, 1/mm: positive where the direction of travel turns from x towards y (clockwise on
 * screen). At a handle of no length or a cusp it is infinite, or 0 if the curve is straight there.
 */
export function curvatureAt(segment: Segment, t: number): number {
  if (segment.kind === 'line') return 0;
  const d = segmentDerivativeAt(segment, t);
  const e = segmentSecondDerivativeAt(segment, t);
  const speed = norm(d);
  if (speed > 0) return cross(d, e) / (speed * speed * speed);
  // With a = B'' and b = B''' the derivative nearby is a s + b s^2/2, so curvature ~ (a x b) / (2 |a|^3 |s|).
  const third = subtract(segmentSecondDerivativeAt(segment, 1), segmentSecondDerivativeAt(segment, 0));
  const sense = cross(e, third);
  return sense === 0 ? 0 : sense > 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
}

/** A number that the size of a cubic's curvature does not exceed anywhere, 1/mm; infinite where nothing is known. */
export function curvatureBound(segment: CubicSegment): number {
  const u = subtract(segment.control1, segment.start);
  const v = subtract(segment.control2, segment.control1);
  const w = subtract(segment.end, segment.control2);
  // Speed is at least the least advance along the chord; B' x B'' is 18 times a quadratic with these Bernstein values.
  const chord = unit(subtract(segment.end, segment.start));
  const slowest = 3 * Math.min(dot(u, chord), dot(v, chord), dot(w, chord));
  if (!(slowest > 0)) return Number.POSITIVE_INFINITY;
  const bend = 18 * Math.max(Math.abs(cross(u, v)), Math.abs(cross(u, w)) / 2, Math.abs(cross(v, w)));
  return bend / (slowest * slowest * slowest);
}

/** Parameters inside (0, 1) where a cubic changes the side it bends to. */
export function inflections(segment: CubicSegment): number[] {
  // B' x B'' over 18: with hodograph control vectors u, v, w it is the quadratic with these coefficients.
  const u = subtract(segment.control1, segment.start);
  const v = subtract(segment.control2, segment.control1);
  const w = subtract(segment.end, segment.control2);
  const uv = cross(u, v);
  const uw = cross(u, w);
  const vw = cross(v, w);
  return quadraticRoots(uv - uw + vw, uw - 2 * uv, uv).filter((t) => t > 0 && t < 1);
}

/**
 * How often the bend changes side along a path. Straight stretches (turning less than 1e-9 radians) are passed over,
 * and corners at joints do not count as bend.
 */
export function curvatureSignChanges(path: Path): number {
  let changes = 0;
  let last = 0;
  for (const segment of path) {
    if (segment.kind === 'line') continue;
    const cuts = [0, ...inflections(segment), 1];
    for (let i = 0; i + 1 < cuts.length; i++) {
      const turned = segmentTurning(segment, cuts[i]!, cuts[i + 1]!);
      if (Math.abs(turned) <= straightTurn) continue;
      const side = Math.sign(turned);
      if (last !== 0 && side !== last) changes++;
      last = side;
    }
  }
  return changes;
}

/**
 * Signed total turning of the direction of travel from the start of a path to its end, radians, corners included;
 * positive from x towards y. Full turns count: it is not reduced to one revolution.
 */
export function totalTurning(path: Path): number {
  let sum = 0;
  let arriving: Point | null = null;
  for (const segment of path) {
    const leaving = unitTangentAt(segment, 0);
    if (leaving.x === 0 && leaving.y === 0) continue;
    if (arriving !== null) sum += angleBetween(arriving, leaving);
    if (segment.kind === 'cubic') sum += segmentTurning(segment, 0, 1);
    arriving = unitTangentAt(segment, 1);
  }
  return sum;
}

/** Turning of a cubic between two parameters, radians. */
function segmentTurning(segment: CubicSegment, t0: number, t1: number): number {
  const v0 = segmentDerivativeAt(segment, t0);
  const v2 = segmentDerivativeAt(segment, t1);
  // Middle control vector of the velocity on [t0, t1].
  const slope = segmentSecondDerivativeAt(segment, t0);
  const h = (t1 - t0) / 2;
  const v1 = { x: v0.x + slope.x * h, y: v0.y + slope.y * h };
  return hodographTurning(v0, v1, v2, unitTangentAt(segment, t0), unitTangentAt(segment, t1), 0);
}

/** If the triangle of the velocity's control vectors keeps clear of the origin, the turning is the angle between its ends. */
function hodographTurning(v0: Point, v1: Point, v2: Point, from: Point, to: Point, depth: number): number {
  const sum = { x: v0.x + v1.x + v2.x, y: v0.y + v1.y + v2.y };
  if ((dot(v0, sum) >= 0 && dot(v1, sum) >= 0 && dot(v2, sum) >= 0) || depth > 40) return angleBetween(from, to);
  const a = { x: (v0.x + v1.x) / 2, y: (v0.y + v1.y) / 2 };
  const b = { x: (v1.x + v2.x) / 2, y: (v1.y + v2.y) / 2 };
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  if (middle.x === 0 && middle.y === 0) return angleBetween(from, a) + angleBetween(b, to);
  return (
    hodographTurning(v0, a, middle, from, middle, depth + 1) + hodographTurning(middle, b, v2, middle, to, depth + 1)
  );
}
