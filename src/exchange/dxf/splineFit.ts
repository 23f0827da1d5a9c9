import { fitHandles, type HandleFit } from '../../geometry/handleFit';
import { distance, dot, norm, type Point, subtract, unit } from '../../geometry/point';
import { line, type Segment } from '../../geometry/segment';
import { type BezierPiece, pieceAt } from './bezierPieces';

/** Points looked at on each part, both ends included. */
const samples = 17;

/** Halvings of one Bezier curve; at a cusp the parts left after these are far shorter than the accuracy. */
const mostHalvings = 12;

/** Counts trials, so that a file made of nothing but wild curves comes to an end. */
export interface FitBudget {
  left: number;
}

/**
 * Cubics that stay within `accuracy` of a Bezier curve of any degree, rational or not, and leave and reach its ends along
 * its own directions. Null when the budget is used up.
 */
export function fitPiece(piece: BezierPiece, accuracy: number, budget: FitBudget): Segment[] | null {
  return fitBetween(piece, 0, 1, accuracy, budget, 0);
}

function fitBetween(
  piece: BezierPiece,
  t0: number,
  t1: number,
  accuracy: number,
  budget: FitBudget,
  depth: number,
): Segment[] | null {
  budget.left--;
  if (budget.left < 0) return null;
  const points: Point[] = [];
  const guesses: number[] = [];
  let folds = false;
  let before: Point | null = null;
  for (let i = 0; i < samples; i++) {
    guesses.push(i / (samples - 1));
    const { point, direction } = pieceAt(piece, t0 + (t1 - t0) * guesses[i]!);
    points.push(point);
    // Turned back since the last sample: what lies at the turn is seen only from close by.
    folds ||= before !== null && dot(before, direction) < 0;
    before = direction;
  }
  const first = points[0]!;
  const last = points.at(-1)!;
  if (points.every((p) => distance(p, first) <= accuracy / 2)) return first === last ? [] : [line(first, last)];
  const chord = distance(first, last);
  const leaving = endDirection(piece, t0, t0 + (t1 - t0) / 64);
  const arriving = endDirection(piece, t1, t1 - (t1 - t0) / 64);
  const handle = Math.max(chord, accuracy) / 3;
  const fit = fitHandles(points, guesses, leaving, arriving, handle, handle, accuracy / 8);
  const isNear = !folds && fit.worst <= accuracy / 2 && betweenSamples(piece, t0, t1, fit) <= accuracy / 2;
  if (isNear) return [fit.curve];
  if (depth >= mostHalvings) return [line(first, last)];
  const middle = (t0 + t1) / 2;
  const head = fitBetween(piece, t0, middle, accuracy, budget, depth + 1);
  const tail = head && fitBetween(piece, middle, t1, accuracy, budget, depth + 1);
  return tail && [...head, ...tail];
}

/** Largest distance from the fitted cubic half way between the samples, where a fold could hide. */
function betweenSamples(piece: BezierPiece, t0: number, t1: number, { curve, parameters }: HandleFit): number {
  const points: Point[] = [curve.start];
  const guesses = [0];
  for (let i = 0; i + 1 < samples; i++) {
    points.push(pieceAt(piece, t0 + ((t1 - t0) * (i + 0.5)) / (samples - 1)).point);
    guesses.push((parameters[i]! + parameters[i + 1]!) / 2);
  }
  points.push(curve.end);
  guesses.push(1);
  const [leaving, arriving] = [subtract(curve.control1, curve.start), subtract(curve.end, curve.control2)];
  const [a, b] = [norm(leaving), norm(arriving)];
  // With every deviation taken for good enough, the handles stay as they are and only the feet are found.
  return fitHandles(points, guesses, unit(leaving), unit(arriving), a, b, Number.POSITIVE_INFINITY).worst;
}

/** Unit direction of travel at t; where points fall together there, that towards or from a place close by. */
function endDirection(piece: BezierPiece, t: number, beside: number): Point {
  const { point, direction } = pieceAt(piece, t);
  if (direction.x !== 0 || direction.y !== 0) return unit(direction);
  const near = pieceAt(piece, beside).point;
  return beside > t
    ? unit({ x: near.x - point.x, y: near.y - point.y })
    : unit({ x: point.x - near.x, y: point.y - near.y });
}
