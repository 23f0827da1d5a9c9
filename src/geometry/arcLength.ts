import { gaussLegendre } from './gaussLegendre';
import { distance } from './point';
import type { CubicSegment, Segment } from './segment';
import { lengthAccuracy, maxHalvings, speedRounding } from './tolerance';

const coarse = gaussLegendre(12);
const fine = gaussLegendre(20);

/** Velocity of a cubic as polynomials: x' = ax t^2 + bx t + cx, and the same in y. */
interface Velocity {
  readonly ax: number;
  readonly bx: number;
  readonly cx: number;
  readonly ay: number;
  readonly by: number;
  readonly cy: number;
  /** Rounding of an evaluated speed, mm per unit of t: below it neither rules nor polygons can agree. */
  readonly noise: number;
}

/**
 * Arc length of a segment, mm, to within `accuracy` mm (rounding of about 1e-15 of the length aside).
 *
 * Adaptive Gauss-Legendre of the speed: a stretch is accepted when the 12- and 20-point rules agree and the velocity
 * does not turn back on it; otherwise it is halved. A stretch whose control polygon is no longer than its chord plus
 * the accuracy needs no integral, which is what ends the halving at a cusp.
 */
export function segmentLength(segment: Segment, accuracy = lengthAccuracy): number {
  return segment.kind === 'line'
    ? distance(segment.start, segment.end)
    : integrateSpeed(velocityOf(segment), 0, 1, accuracy);
}

/** Arc length between two parameters, mm; negative when t1 < t0. */
export function segmentLengthBetween(segment: Segment, t0: number, t1: number, accuracy = lengthAccuracy): number {
  if (t1 < t0) return -segmentLengthBetween(segment, t1, t0, accuracy);
  return segment.kind === 'line'
    ? distance(segment.start, segment.end) * (t1 - t0)
    : integrateSpeed(velocityOf(segment), t0, t1, accuracy);
}

/**
 * The parameter at which `length` mm of the segment lie behind, within `accuracy` mm along the curve.
 * Lengths below 0 give 0 and lengths beyond the end give 1.
 *
 * Newton on the arc length, kept inside a shrinking bracket; where the speed vanishes it bisects.
 */
export function segmentParameterAtLength(segment: Segment, length: number, accuracy = lengthAccuracy): number {
  const whole = segmentLength(segment, accuracy / 4);
  if (!(length > 0)) return 0;
  if (length >= whole) return 1;
  if (segment.kind === 'line') return length / whole;
  const v = velocityOf(segment);
  let low = 0;
  let high = 1;
  let t = length / whole;
  let behind = integrateSpeed(v, 0, t, accuracy / 4);
  for (let step = 0; step < 100; step++) {
    const excess = behind - length;
    if (excess > 0) high = t;
    else low = t;
    if (Math.abs(excess) <= accuracy / 2 || high - low < 1e-16) break;
    const speed = Math.hypot((v.ax * t + v.bx) * t + v.cx, (v.ay * t + v.by) * t + v.cy);
    let next = t - excess / speed;
    if (!(next > low && next < high)) next = (low + high) / 2;
    behind = integrateSpeed(v, 0, next, accuracy / 4);
    t = next;
  }
  return t;
}

function velocityOf(c: CubicSegment): Velocity {
  const d0x = 3 * (c.control1.x - c.start.x);
  const d0y = 3 * (c.control1.y - c.start.y);
  const d1x = 3 * (c.control2.x - c.control1.x);
  const d1y = 3 * (c.control2.y - c.control1.y);
  const d2x = 3 * (c.end.x - c.control2.x);
  const d2y = 3 * (c.end.y - c.control2.y);
  const size = Math.abs(d0x) + Math.abs(d1x) + Math.abs(d2x) + Math.abs(d0y) + Math.abs(d1y) + Math.abs(d2y);
  return {
    ax: d0x - 2 * d1x + d2x,
    bx: 2 * (d1x - d0x),
    cx: d0x,
    ay: d0y - 2 * d1y + d2y,
    by: 2 * (d1y - d0y),
    cy: d0y,
    noise: speedRounding * size,
  };
}

function integrateSpeed(v: Velocity, t0: number, t1: number, accuracy: number): number {
  return integrate(v, t0, t1, accuracy, 0);
}

function integrate(v: Velocity, t0: number, t1: number, accuracy: number, depth: number): number {
  const h = t1 - t0;
  if (h <= 0) return 0;
  // The velocity on [t0, t1] as a quadratic Bezier: v0, v1, v2. Its control vectors bound the curve's length.
  const v0x = (v.ax * t0 + v.bx) * t0 + v.cx;
  const v0y = (v.ay * t0 + v.by) * t0 + v.cy;
  const v1x = v0x + (v.ax * t0 + v.bx / 2) * h;
  const v1y = v0y + (v.ay * t0 + v.by / 2) * h;
  const v2x = (v.ax * t1 + v.bx) * t1 + v.cx;
  const v2y = (v.ay * t1 + v.by) * t1 + v.cy;
  const chordX = v0x + v1x + v2x;
  const chordY = v0y + v1y + v2y;
  const enough = Math.max(accuracy, v.noise * h);
  const forward =
    v0x * chordX + v0y * chordY >= 0 && v1x * chordX + v1y * chordY >= 0 && v2x * chordX + v2y * chordY >= 0;
  if (forward) {
    const rough = sumSpeed(v, t0, h, coarse.nodes, coarse.weights);
    const good = sumSpeed(v, t0, h, fine.nodes, fine.weights);
    if (Math.abs(good - rough) <= enough) return good;
  }
  const polygon =
    (h / 3) * (Math.sqrt(v0x * v0x + v0y * v0y) + Math.sqrt(v1x * v1x + v1y * v1y) + Math.sqrt(v2x * v2x + v2y * v2y));
  const chord = (h / 3) * Math.sqrt(chordX * chordX + chordY * chordY);
  // Written so that a curve that is not numbers answers NaN instead of halving for ever.
  if (!(polygon - chord > enough) || depth >= maxHalvings) return (polygon + chord) / 2;
  const middle = t0 + h / 2;
  return integrate(v, t0, middle, accuracy / 2, depth + 1) + integrate(v, middle, t1, accuracy / 2, depth + 1);
}

function sumSpeed(v: Velocity, t0: number, h: number, nodes: readonly number[], weights: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < nodes.length; i++) {
    const t = t0 + h * nodes[i]!;
    const x = (v.ax * t + v.bx) * t + v.cx;
    const y = (v.ay * t + v.by) * t + v.cy;
    sum += weights[i]! * Math.sqrt(x * x + y * y);
  }
  return sum * h;
}
