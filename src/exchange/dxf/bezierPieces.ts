import type { Point } from '../../geometry/point';

/** A point with its weight: x and y already multiplied by it. */
export type Weighted = readonly [x: number, y: number, weight: number];

/** A B-spline, rational when its weights differ. */
export interface Spline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly Weighted[];
}

/** Control points of a Bezier curve of any degree, with weights. */
export type BezierPiece = readonly Weighted[];

/**
 * The spline cut at its knots into Bezier curves, exactly: each control point is the spline's blossom at the two ends of a
 * span (L. Ramshaw, Blossoming, 1987), which is what inserting every knot until it is full (W. Boehm, 1980) arrives at.
 * Null when knots and points do not go together, run backward, or leave the curve in separate parts.
 */
export function bezierPieces({ degree, knots, points }: Spline): BezierPiece[] | null {
  if (points.length <= degree || knots.length !== points.length + degree + 1) return null;
  for (let i = 1; i < knots.length; i++) if (!(knots[i]! >= knots[i - 1]!)) return null;
  for (let i = degree + 1; i + degree < points.length; i++) if (!(knots[i + degree]! > knots[i]!)) return null;
  const pieces: BezierPiece[] = [];
  for (let span = degree; span < points.length; span++) {
    const from = knots[span]!;
    const to = knots[span + 1]!;
    if (!(to > from)) continue;
    const piece: Weighted[] = [];
    for (let k = 0; k <= degree; k++) {
      piece.push(blossom(degree, knots, points, span, (r) => (r <= degree - k ? from : to)));
    }
    pieces.push(piece);
  }
  return pieces.length > 0 ? pieces : null;
}

/** De Boor's scheme with another parameter in every round. */
function blossom(
  degree: number,
  knots: readonly number[],
  points: readonly Weighted[],
  span: number,
  parameter: (round: number) => number,
): Weighted {
  const row = points.slice(span - degree, span + 1);
  for (let round = 1; round <= degree; round++) {
    const u = parameter(round);
    for (let j = degree; j >= round; j--) {
      const low = knots[span - degree + j]!;
      const high = knots[span + 1 + j - round]!;
      row[j] = between(row[j - 1]!, row[j]!, (u - low) / (high - low));
    }
  }
  return row[degree]!;
}

function between(a: Weighted, b: Weighted, t: number): Weighted {
  const s = 1 - t;
  return [s * a[0] + t * b[0], s * a[1] + t * b[1], s * a[2] + t * b[2]];
}

export function plainPoint([x, y, weight]: Weighted): Point {
  return { x: x / weight, y: y / weight };
}

/** Point and direction of travel (any length) at t, by de Casteljau. */
export function pieceAt(piece: BezierPiece, t: number): { readonly point: Point; readonly direction: Point } {
  const row = [...piece];
  for (let count = row.length - 1; count > 1; count--) {
    for (let j = 0; j < count; j++) row[j] = between(row[j]!, row[j + 1]!, t);
  }
  const a = plainPoint(row[0]!);
  const b = plainPoint(row[1]!);
  return { point: plainPoint(between(row[0]!, row[1]!, t)), direction: { x: b.x - a.x, y: b.y - a.y } };
}
