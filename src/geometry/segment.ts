import { add, mix, type Point, scale, subtract } from './point';

/** A straight piece of an outline, mm. */
export interface LineSegment {
  readonly kind: 'line';
  readonly start: Point;
  readonly end: Point;
}

/** A cubic Bezier piece of an outline, mm. */
export interface CubicSegment {
  readonly kind: 'cubic';
  readonly start: Point;
  readonly control1: Point;
  readonly control2: Point;
  readonly end: Point;
}

export type Segment = LineSegment | CubicSegment;

/** Segments laid end to start: every segment starts exactly where the one before it ends. */
export type Path = readonly Segment[];

export function line(start: Point, end: Point): LineSegment {
  return { kind: 'line', start, end };
}

export function cubic(start: Point, control1: Point, control2: Point, end: Point): CubicSegment {
  return { kind: 'cubic', start, control1, control2, end };
}

/** Point at parameter t in [0, 1]; exact at both ends. */
export function segmentPointAt(segment: Segment, t: number): Point {
  if (t === 0) return segment.start;
  if (t === 1) return segment.end;
  if (segment.kind === 'line') return mix(segment.start, segment.end, t);
  const u = 1 - t;
  const b0 = u * u * u;
  const b1 = 3 * u * u * t;
  const b2 = 3 * u * t * t;
  const b3 = t * t * t;
  return {
    x: b0 * segment.start.x + b1 * segment.control1.x + b2 * segment.control2.x + b3 * segment.end.x,
    y: b0 * segment.start.y + b1 * segment.control1.y + b2 * segment.control2.y + b3 * segment.end.y,
  };
}

/** First derivative by t, mm per unit of t. */
export function segmentDerivativeAt(segment: Segment, t: number): Point {
  if (segment.kind === 'line') return subtract(segment.end, segment.start);
  const u = 1 - t;
  const d0 = subtract(segment.control1, segment.start);
  const d1 = subtract(segment.control2, segment.control1);
  const d2 = subtract(segment.end, segment.control2);
  const a = 3 * u * u;
  const b = 6 * u * t;
  const c = 3 * t * t;
  return { x: a * d0.x + b * d1.x + c * d2.x, y: a * d0.y + b * d1.y + c * d2.y };
}

/** Second derivative by t, mm per unit of t squared. */
export function segmentSecondDerivativeAt(segment: Segment, t: number): Point {
  if (segment.kind === 'line') return { x: 0, y: 0 };
  const e0 = add(subtract(segment.control2, scale(segment.control1, 2)), segment.start);
  const e1 = add(subtract(segment.end, scale(segment.control2, 2)), segment.control1);
  return { x: 6 * ((1 - t) * e0.x + t * e1.x), y: 6 * ((1 - t) * e0.y + t * e1.y) };
}

/** The two parts of a segment on either side of t, by de Casteljau; they share one split point exactly. */
export function splitSegment(segment: Segment, t: number): readonly [Segment, Segment] {
  if (segment.kind === 'line') {
    const at = mix(segment.start, segment.end, t);
    return [line(segment.start, at), line(at, segment.end)];
  }
  const p01 = mix(segment.start, segment.control1, t);
  const p12 = mix(segment.control1, segment.control2, t);
  const p23 = mix(segment.control2, segment.end, t);
  const p012 = mix(p01, p12, t);
  const p123 = mix(p12, p23, t);
  const at = mix(p012, p123, t);
  return [cubic(segment.start, p01, p012, at), cubic(at, p123, p23, segment.end)];
}

/** The part of a segment between parameters t0 < t1. */
export function subSegment(segment: Segment, t0: number, t1: number): Segment {
  if (t0 === 0 && t1 === 1) return segment;
  const head = t1 === 1 ? segment : splitSegment(segment, t1)[0];
  return t0 === 0 ? head : splitSegment(head, t0 / t1)[1];
}

export function reverseSegment(segment: Segment): Segment {
  return segment.kind === 'line'
    ? line(segment.end, segment.start)
    : cubic(segment.end, segment.control2, segment.control1, segment.start);
}

export function reversePath(path: Path): Path {
  return path.map(reverseSegment).reverse();
}
