import { distance, type Point, subtract, unit } from '../geometry/point';

/** A parabola through the beginning of a chain of points: start + slope u + bend u^2, u the distance along the chain, mm. */
export interface OneSided {
  readonly start: Point;
  readonly slope: Point;
  readonly bend: Point;
}

/** Lengths of chain tried, mm, and the fewest points that decide a parabola with some to spare. */
const spans = [8, 11, 16, 23, 32];
const fewest = 5;

/** Ratio. A straight line that fits no worse than this times the parabola is the better guess: it is steadier carried on. */
const straightFitsToo = 1.2;

/** mm. A trace this true needs no longer stretch to average its errors out. */
const trueEnough = 0.002;

/**
 * The least-squares parabola through the first points of a chain. Unlike the first step alone it is hardly moved by the
 * small errors of a trace, and unlike a straight line it does not lean on a curve. It is taken over 8 mm, or longer as
 * long as that fits no worse, which averages a rough trace without flattening a bend. Null for fewer than two points.
 */
export function beginningOf(points: readonly Point[]): OneSided | null {
  const first = points[0];
  const second = points[1];
  if (!first || !second) return null;
  let best: OneSided | null = null;
  let allowed = Number.POSITIVE_INFINITY;
  let count = 0;
  let reached = 0;
  for (const span of spans) {
    while (count < points.length && (count < fewest || reached <= span)) {
      if (count > 0) reached += distance(points[count - 1]!, points[count]!);
      count++;
    }
    const fitted = count < fewest ? null : parabola(points.slice(0, count));
    if (!fitted || fitted.error > allowed) break;
    if (best === null) allowed = Math.max(trueEnough, 1.3 * fitted.error);
    best = fitted.side;
  }
  return best ?? { start: first, slope: unit(subtract(second, first)), bend: { x: 0, y: 0 } };
}

/** The parabola through the points by least squares in the distance along their chain, and its root-mean-square error, mm. */
function parabola(points: readonly Point[]): { readonly side: OneSided; readonly error: number } | null {
  const first = points[0]!;
  // Sums of u^k and of u^k times the offsets, for the three normal equations.
  const s = [0, 0, 0, 0, 0];
  const x = [0, 0, 0];
  const y = [0, 0, 0];
  const along: number[] = [];
  let u = 0;
  points.forEach((p, i) => {
    if (i > 0) u += distance(points[i - 1]!, p);
    along.push(u);
    for (let k = 0; k < 5; k++) s[k]! += u ** k;
    for (let k = 0; k < 3; k++) {
      x[k]! += (p.x - first.x) * u ** k;
      y[k]! += (p.y - first.y) * u ** k;
    }
  });
  const [s0, s1, s2, s3, s4] = s as [number, number, number, number, number];
  const determinant = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2);
  if (!(determinant > 1e-9 * s0 * s2 * s4)) return null;
  const solve = ([b0, b1, b2]: readonly number[]) => [
    ((s2 * s4 - s3 * s3) * b0! - (s1 * s4 - s2 * s3) * b1! + (s1 * s3 - s2 * s2) * b2!) / determinant,
    (-(s1 * s4 - s2 * s3) * b0! + (s0 * s4 - s2 * s2) * b1! - (s0 * s3 - s1 * s2) * b2!) / determinant,
    ((s1 * s3 - s2 * s2) * b0! - (s0 * s3 - s1 * s2) * b1! + (s0 * s2 - s1 * s1) * b2!) / determinant,
  ];
  const [cx, ax, bx] = solve(x) as [number, number, number];
  const [cy, ay, by] = solve(y) as [number, number, number];
  const errorOf = (side: OneSided) =>
    Math.sqrt(points.reduce((sum, p, i) => sum + distance(p, pointOn(side, along[i]!)) ** 2, 0) / points.length);
  const bent = { start: { x: first.x + cx, y: first.y + cy }, slope: { x: ax, y: ay }, bend: { x: bx, y: by } };
  const line = (b: readonly number[]) => [
    (s2 * b[0]! - s1 * b[1]!) / (s0 * s2 - s1 * s1),
    (s0 * b[1]! - s1 * b[0]!) / (s0 * s2 - s1 * s1),
  ];
  const [lx, mx] = line(x) as [number, number];
  const [ly, my] = line(y) as [number, number];
  const straight = { start: { x: first.x + lx, y: first.y + ly }, slope: { x: mx, y: my }, bend: { x: 0, y: 0 } };
  const error = errorOf(bent);
  return { side: errorOf(straight) <= Math.max(straightFitsToo * error, trueEnough) ? straight : bent, error };
}

export function pointOn(side: OneSided, u: number): Point {
  return {
    x: side.start.x + (side.slope.x + side.bend.x * u) * u,
    y: side.start.y + (side.slope.y + side.bend.y * u) * u,
  };
}

/** Unit direction of growing u. */
export function directionOn(side: OneSided, u: number): Point {
  return unit({ x: side.slope.x + 2 * side.bend.x * u, y: side.slope.y + 2 * side.bend.y * u });
}

/** Distance of a point near the beginning of a parabola from it, mm (feet found by three Newton steps). */
export function distanceTo(side: OneSided, p: Point): number {
  const length = Math.hypot(side.slope.x, side.slope.y);
  let u = ((p.x - side.start.x) * side.slope.x + (p.y - side.start.y) * side.slope.y) / (length * length);
  for (let round = 0; round < 3; round++) {
    const off = subtract(p, pointOn(side, u));
    const along = { x: side.slope.x + 2 * side.bend.x * u, y: side.slope.y + 2 * side.bend.y * u };
    u += (off.x * along.x + off.y * along.y) / (along.x * along.x + along.y * along.y);
  }
  return distance(p, pointOn(side, u));
}

/** Where two such parabolas cross, by Newton's method from their starts: the two distances, or null if they run apart. */
export function crossing(a: OneSided, b: OneSided): { readonly ua: number; readonly ub: number } | null {
  let ua = 0;
  let ub = 0;
  for (let round = 0; round < 20; round++) {
    const gap = subtract(pointOn(b, ub), pointOn(a, ua));
    const da = { x: a.slope.x + 2 * a.bend.x * ua, y: a.slope.y + 2 * a.bend.y * ua };
    const db = { x: b.slope.x + 2 * b.bend.x * ub, y: b.slope.y + 2 * b.bend.y * ub };
    const determinant = da.x * db.y - da.y * db.x;
    if (!(Math.abs(determinant) > 1e-6)) return null;
    const stepA = (gap.x * db.y - gap.y * db.x) / determinant;
    const stepB = (gap.x * da.y - gap.y * da.x) / determinant;
    ua += stepA;
    ub += stepB;
    if (Math.abs(stepA) + Math.abs(stepB) < 1e-12) return { ua, ub };
  }
  return null;
}
