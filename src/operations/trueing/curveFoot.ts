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
  /**
   * @param guess where to start, in spans
   * @param likely where the foot is to be expected; an end far from there is doubted
   */
  find(px: number, py: number, guess: number, likely: number): void;
}

/** Longest step of a Newton round, in spans, so that a bend of the curve cannot throw the foot across it. */
const longestStep = 0.25;
/** Looks to a span when Newton has gone astray. */
const looks = 16;

/** @param curve powers of x, then of y, of every span, 8 numbers a span; may change between calls. */
export function footFinder(curve: Float64Array, spans: number): FootFinder {
  const finder: FootFinder = {
    foot: 0.5,
    span: 0,
    u: 0.5,
    bx: 0.5,
    by: 0.5,
    dx: 0.5,
    dy: 0.5,
    bend: 0.5,
    atEnd: false,
    find(px, py, guess, likely) {
      const settled = newton(px, py, guess);
      const { foot, atEnd, bx, by } = finder;
      if (settled && !(atEnd && Math.abs(foot - likely) > longestStep)) return;
      const nearest = bestLook(px, py, settled ? bx * bx + by * by : Number.POSITIVE_INFINITY);
      if (nearest >= 0) newton(px, py, nearest);
    },
  };

  /** Whether the foot was found. */
  function newton(px: number, py: number, guess: number): boolean {
    let foot = guess;
    let span = 0;
    let u = 0;
    let bx = 0;
    let by = 0;
    let dx = 0;
    let dy = 0;
    let bend = 1;
    let atEnd = false;
    let settled = false;
    for (let round = 0; round < 20 && !settled; round++) {
      span = foot >= spans ? spans - 1 : Math.floor(foot);
      u = foot - span;
      const c = 8 * span;
      bx = curve[c]! + u * (curve[c + 1]! + u * (curve[c + 2]! + u * curve[c + 3]!)) - px;
      by = curve[c + 4]! + u * (curve[c + 5]! + u * (curve[c + 6]! + u * curve[c + 7]!)) - py;
      dx = curve[c + 1]! + u * (2 * curve[c + 2]! + u * 3 * curve[c + 3]!);
      dy = curve[c + 5]! + u * (2 * curve[c + 6]! + u * 3 * curve[c + 7]!);
      const slope = bx * dx + by * dy;
      atEnd = (foot <= 0 && slope >= 0) || (foot >= spans && slope <= 0);
      if (atEnd) {
        settled = true;
        break;
      }
      const ax = 2 * curve[c + 2]! + 6 * u * curve[c + 3]!;
      const ay = 2 * curve[c + 6]! + 6 * u * curve[c + 7]!;
      const speed2 = dx * dx + dy * dy;
      bend = speed2 + bx * ax + by * ay;
      // Beyond the centre of curvature Newton would climb; the first-order step still descends.
      if (bend < 0.1 * speed2) bend = speed2;
      const step = Math.min(Math.max(-slope / bend, -longestStep), longestStep);
      const next = Math.min(Math.max(foot + step, 0), spans);
      settled = next - foot < footStep && foot - next < footStep;
      foot = next;
    }
    finder.foot = foot;
    finder.span = span;
    finder.u = u;
    finder.bx = bx;
    finder.by = by;
    finder.dx = dx;
    finder.dy = dy;
    finder.bend = bend;
    finder.atEnd = atEnd;
    return settled;
  }

  /** The parameter of the nearest of evenly spread points, if it is nearer than the square root of `than`; else -1. */
  function bestLook(px: number, py: number, than: number): number {
    let best = -1;
    let least = than;
    for (let i = 0; i <= looks * spans; i++) {
      const at = i / looks;
      const span = Math.min(Math.floor(at), spans - 1);
      const u = at - span;
      const c = 8 * span;
      const bx = curve[c]! + u * (curve[c + 1]! + u * (curve[c + 2]! + u * curve[c + 3]!)) - px;
      const by = curve[c + 4]! + u * (curve[c + 5]! + u * (curve[c + 6]! + u * curve[c + 7]!)) - py;
      const distance2 = bx * bx + by * by;
      if (distance2 < least) {
        least = distance2;
        best = at;
      }
    }
    return best;
  }

  return finder;
}
