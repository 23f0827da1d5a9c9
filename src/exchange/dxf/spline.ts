import { distance, type Point, unit } from '../../geometry/point';
import { cubic, line, type Segment } from '../../geometry/segment';
import { type BezierPiece, bezierPieces, plainPoint, type Weighted } from './bezierPieces';
import { dxfLimits } from './limits';
import { type Entry, eachPair, numberIn } from './pairs';
import { type FitBudget, fitPiece } from './splineFit';
import { splineThrough } from './throughPoints';

/** Ratio of a spline's extent: how near the cubics stay that stand for one they cannot be: 0.001 mm on a metre. */
const fitShare = 1e-6;

/** Ratio. Weights that differ by less are equal. */
const sameWeight = 1e-12;

/** What a SPLINE entity says, and how many numbers that took. */
interface Written {
  readonly degree: number;
  readonly closed: boolean;
  readonly knots: readonly number[];
  readonly weights: readonly number[];
  readonly points: readonly Point[];
  readonly through: readonly Point[];
  readonly leaving: Point | null;
  readonly arriving: Point | null;
}

export type SplineAnswer =
  | { readonly kind: 'read'; readonly segments: readonly Segment[]; readonly throughPoints: boolean }
  | { readonly kind: 'unreadable' }
  /** More curves that have to be fitted than a drawing can need. */
  | { readonly kind: 'too-much' };

/**
 * The cubics of a SPLINE: exactly the curve where it is of degree 3 or lower with equal weights, otherwise within a
 * millionth of its extent. One given only by the points it runs through is drawn as the usual cubic spline through them.
 */
export function splineOf(entry: Entry, budget: FitBudget): SplineAnswer {
  const written = readSpline(entry);
  if (!written) return { kind: 'unreadable' };
  if (written.points.length === 0) {
    const { through, closed, leaving, arriving } = written;
    return { kind: 'read', segments: splineThrough(through, closed, leaving, arriving), throughPoints: true };
  }
  const { degree, knots, points, weights } = written;
  const weighted = points.map(({ x, y }, i): Weighted => {
    const weight = weights[i] ?? 1;
    return [x * weight, y * weight, weight];
  });
  const pieces = bezierPieces({ degree, knots, points: weighted });
  if (!pieces) return { kind: 'unreadable' };
  const accuracy = fitShare * extentOf(points);
  const segments: Segment[] = [];
  for (const piece of pieces) {
    const drawn = degree <= 3 && isPlain(piece) ? [exactly(piece)] : fitPiece(piece, accuracy, budget);
    if (!drawn) return { kind: 'too-much' };
    for (const segment of drawn) {
      // Neighbours share their joint but for rounding.
      const last = segments.at(-1);
      segments.push(last ? { ...segment, start: last.end } : segment);
    }
  }
  return { kind: 'read', segments, throughPoints: false };
}

function isPlain(piece: BezierPiece): boolean {
  const first = piece[0]![2];
  return piece.every(([, , weight]) => Math.abs(weight - first) <= sameWeight * first);
}

/** A curve of degree 1 to 3 as a line or a cubic, exactly. */
function exactly(piece: BezierPiece): Segment {
  const [a, b, c, d] = piece.map(plainPoint);
  if (!c) return line(a!, b!);
  if (d) return cubic(a!, b!, c, d);
  const third = (end: Point, middle: Point): Point => ({
    x: (end.x + 2 * middle.x) / 3,
    y: (end.y + 2 * middle.y) / 3,
  });
  return cubic(a!, third(a!, b!), third(c, b!), c);
}

function extentOf(points: readonly Point[]): number {
  let furthest = 0;
  for (const p of points) furthest = Math.max(furthest, distance(points[0]!, p));
  return furthest;
}

/** Null when a number is none, when points and weights do not go together, or when there is nothing to draw. */
function readSpline(entry: Entry): Written | null {
  const lists = new Map<number, number[]>([10, 20, 11, 21, 40, 41].map((code) => [code, []]));
  let sound = true;
  eachPair(entry, (code, i) => {
    const list = lists.get(code);
    if (!list) return;
    const value = entry.pairs.number(i);
    if (Number.isNaN(value)) sound = false;
    list.push(value);
  });
  const degree = numberIn(entry, 71, 3);
  const flags = numberIn(entry, 70, 0);
  const points = paired(lists.get(10)!, lists.get(20)!);
  const through = paired(lists.get(11)!, lists.get(21)!);
  const weights = lists.get(41)!;
  if (!sound || !points || !through || (points.length === 0 && through.length < 2)) return null;
  if (!(Number.isInteger(degree) && degree >= 1 && degree <= dxfLimits.degree)) return null;
  if (weights.length > 0 && (weights.length !== points.length || !weights.every((w) => w > 1e-9 && w < 1e9)))
    return null;
  return {
    degree,
    closed: (flags & 1) !== 0,
    knots: lists.get(40)!,
    weights,
    points,
    through,
    leaving: directionIn(entry, 12, 22),
    arriving: directionIn(entry, 13, 23),
  };
}

function paired(xs: readonly number[], ys: readonly number[]): Point[] | null {
  return xs.length === ys.length ? xs.map((x, i) => ({ x, y: ys[i]! })) : null;
}

function directionIn(entry: Entry, codeX: number, codeY: number): Point | null {
  const direction = unit({ x: numberIn(entry, codeX, 0), y: numberIn(entry, codeY, 0) });
  return Math.abs(Math.hypot(direction.x, direction.y) - 1) < 1e-6 ? direction : null;
}
