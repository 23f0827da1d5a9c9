import { footStep } from '../../geometry/tolerance';

/**
 * Finds the point of a spline nearest to a point, from a first guess, without allocating. The answer stays in the
 * fields until the next call.
 */
export interface FootFinder {
  /** Parameter on the curve, in spans. */
  foot: number;
  /** Span and parameter inside it. */
  span: number;
  u: number;
  /** From the point to the curve. */
  bx: number;
  by: number;
  /** First derivative of the curve at the foot. */
  dx: number;
  dy: number;
  /** Half the second derivative of the squared distance by the parameter. */
  bend: number;
  /** The nearest point is an end of the curve, reached past its end rather than square to it. */
  atEnd: boolean;
  find(px: number, py: number, guess: number): void;
}

/** @param curve powers of x, then of y, of every span, 8 numbers a span; may change between calls. */
export function footFinder(curve: Float64Array, spans: number): FootFinder {
  return {
    foot: 0.5,
    span: 0,
    u: 0.5,
    bx: 0.5,
    by: 0.5,
    dx: 0.5,
    dy: 0.5,
    bend: 0.5,
    atEnd: false,
    find(px, py, guess) {
      let foot = guess;
      let span = 0;
      let u = 0;
      let bx = 0;
      let by = 0;
      let dx = 0;
      let dy = 0;
      let bend = 1;
      let atEnd = false;
      for (let round = 0; round < 12; round++) {
        span = foot >= spans ? spans - 1 : Math.floor(foot);
        u = foot - span;
        const c = 8 * span;
        bx = curve[c]! + u * (curve[c + 1]! + u * (curve[c + 2]! + u * curve[c + 3]!)) - px;
        by = curve[c + 4]! + u * (curve[c + 5]! + u * (curve[c + 6]! + u * curve[c + 7]!)) - py;
        dx = curve[c + 1]! + u * (2 * curve[c + 2]! + u * 3 * curve[c + 3]!);
        dy = curve[c + 5]! + u * (2 * curve[c + 6]! + u * 3 * curve[c + 7]!);
        const slope = bx * dx + by * dy;
        atEnd = (foot <= 0 && slope >= 0) || (foot >= spans && slope <= 0);
        if (atEnd) break;
        const ax = 2 * curve[c + 2]! + 6 * u * curve[c + 3]!;
        const ay = 2 * curve[c + 6]! + 6 * u * curve[c + 7]!;
        const speed2 = dx * dx + dy * dy;
        bend = speed2 + bx * ax + by * ay;
        // Beyond the centre of curvature Newton would climb; the first-order step still descends.
        if (bend < 0.1 * speed2) bend = speed2;
        const next = Math.min(Math.max(foot - slope / bend, 0), spans);
        const step = next - foot;
        foot = next;
        if (step < footStep && step > -footStep) break;
      }
      this.foot = foot;
      this.span = span;
      this.u = u;
      this.bx = bx;
      this.by = by;
      this.dx = dx;
      this.dy = dy;
      this.bend = bend;
      this.atEnd = atEnd;
    },
  };
}
