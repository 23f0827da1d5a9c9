import { distance, type Point } from '../../geometry/point';
import type { OneSided } from '../oneSided';

/** The edge beside a corner: a parabola from the corner's first clear place on, and how well it is known carried on. */
export interface CornerSide extends OneSided {
  /** mm. Standard deviation across the edge at distance u along it; below 0 it is carried on beyond its beginning. */
  spreadAt(u: number): number;
}

/** Lengths of edge tried, mm, and the fewest places that decide a parabola with some to spare. */
const spans = [8, 11, 16, 23, 32];
const fewest = 5;

/** Places that share their error tell one thing: so many such lengths decide a side. */
const fewestLengths = 7;

/** Ratio. A straight line that fits no worse than this times the parabola is the better guess: it is steadier carried on. */
const straightFitsToo = 1.2;

/** 1 / mm. How sharply edges of pieces bend beside their corners, one standard deviation: a radius of 80 mm. Our own assumption. */
const usualBend = 1 / 80;

/**
 * The parabola through the first places of a side (mm, the corner lies before them), weighed. Neighbours share their errors
 * over `shared` places, so that a wave of a few mm is no bend: how sharply edges usually bend is taken as observed too, and
 * the side is followed farther as long as it fits no worse than `floor` mm. Null for too few places.
 */
export function cornerSide(
  points: readonly Point[],
  weights: readonly number[],
  shared: number,
  floor: number,
): CornerSide | null {
  let best: CornerSide | null = null;
  let allowed = Number.POSITIVE_INFINITY;
  let count = 0;
  let reached = 0;
  for (const span of spans) {
    while (count < points.length && (count < fewest || reached <= span)) {
      if (count > 0) reached += distance(points[count - 1]!, points[count]!);
      count++;
    }
    const isLast = count === points.length || span === spans.at(-1);
    if (count < Math.max(fewest, fewestLengths * shared) && !isLast) continue;
    const fitted = count < fewest ? null : fittedSide(points.slice(0, count), weights, shared, floor);
    if (!fitted || fitted.error > allowed) break;
    if (best === null) allowed = Math.max(floor, 1.3 * fitted.error);
    best = fitted.side;
    if (count === points.length) break;
  }
  return best;
}

function fittedSide(points: readonly Point[], weights: readonly number[], shared: number, floor: number) {
  const first = points[0]!;
  const last = points.at(-1)!;
  const length = distance(first, last);
  if (!(length > 0)) return null;
  const tx = (last.x - first.x) / length;
  const ty = (last.y - first.y) / length;
  const s = [0, 0, 0, 0, 0];
  const b = [0, 0, 0];
  const places = points.map((p, i) => {
    const u = (p.x - first.x) * tx + (p.y - first.y) * ty;
    const v = (p.y - first.y) * tx - (p.x - first.x) * ty;
    const w = Math.max(1e-4, weights[i]!);
    for (let k = 0; k < 5; k++) s[k]! += w * u ** k;
    for (let k = 0; k < 3; k++) b[k]! += w * v * u ** k;
    return { u, v, w };
  });
  const errorOf = ([c0, c1, c2]: readonly number[]) =>
    Math.sqrt(places.reduce((sum, { u, v, w }) => sum + w * (v - c0! - (c1! + c2! * u) * u) ** 2, 0) / s[0]!);
  const bent = solved(s, b, 0);
  if (!bent) return null;
  const error = errorOf(bent.solution);
  // The variance of one place, with what its neighbours share.
  const variance = Math.max(error, floor / 4) ** 2 * Math.max(1, shared);
  const held = solved(s, b, variance / (usualBend / 2) ** 2)!;
  const straight = straightLine(s, b);
  const isStraight = errorOf(straight) <= Math.max(straightFitsToo * error, floor / 4);
  const [c0, c1, c2] = isStraight ? straight : held.solution;
  const side = {
    start: { x: first.x - ty * c0, y: first.y + tx * c0 },
    slope: { x: tx - ty * c1, y: ty + tx * c1 },
    bend: { x: -ty * c2, y: tx * c2 },
    spreadAt: (u: number) => Math.sqrt(variance * held.spread(u)),
  };
  return { side, error };
}

/** Normal equations of c0 + c1 u + c2 u^2 with c2 held to 0 by `hold`; the spread is that of the value at u, per unit variance. */
function solved(s: readonly number[], b: readonly number[], hold: number) {
  const [s0, s1, s2, s3, plain] = s as [number, number, number, number, number];
  const s4 = plain + hold;
  const i00 = s2 * s4 - s3 * s3;
  const i01 = s2 * s3 - s1 * s4;
  const i02 = s1 * s3 - s2 * s2;
  const i11 = s0 * s4 - s2 * s2;
  const i12 = s1 * s2 - s0 * s3;
  const i22 = s0 * s2 - s1 * s1;
  const determinant = s0 * i00 + s1 * i01 + s2 * i02;
  if (!(determinant > 1e-9 * s0 * s2 * s4)) return null;
  const [b0, b1, b2] = b as [number, number, number];
  const solution: [number, number, number] = [
    (i00 * b0 + i01 * b1 + i02 * b2) / determinant,
    (i01 * b0 + i11 * b1 + i12 * b2) / determinant,
    (i02 * b0 + i12 * b1 + i22 * b2) / determinant,
  ];
  const spread = (u: number) =>
    Math.max(0, i00 + 2 * i01 * u + (i11 + 2 * i02) * u * u + 2 * i12 * u ** 3 + i22 * u ** 4) / determinant;
  return { solution, spread };
}

function straightLine(s: readonly number[], b: readonly number[]): [number, number, number] {
  const determinant = s[0]! * s[2]! - s[1]! ** 2;
  return [(s[2]! * b[0]! - s[1]! * b[1]!) / determinant, (s[0]! * b[1]! - s[1]! * b[0]!) / determinant, 0];
}
