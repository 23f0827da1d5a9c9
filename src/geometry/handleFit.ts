import type { Point } from './point';
import { type CubicSegment, cubic } from './segment';

/** A cubic fitted by its handle lengths, with how well it fits. */
export interface HandleFit {
  readonly curve: CubicSegment;
  /** Parameter of the foot of each point on the curve. */
  readonly parameters: readonly number[];
  /** Largest distance from a point to its foot, mm, and which point. */
  readonly worst: number;
  readonly worstIndex: number;
}

/** What one trial of two handle lengths shows; the sums are those of the normal equations. */
interface Trial {
  readonly a: number;
  readonly b: number;
  readonly parameters: number[];
  readonly cost: number;
  readonly worst: number;
  readonly worstIndex: number;
  readonly aa: number;
  readonly ab: number;
  readonly bb: number;
  readonly ga: number;
  readonly gb: number;
}

const maxRounds = 20;

/**
 * The cubic from the first to the last point, with unit end tangents t0 and t3 (both in the direction of travel) and
 * free handle lengths, that lies nearest to the points in the sense of least squares of their distances.
 *
 * Damped Gauss-Newton in the two handle lengths on the distances along the normals, feet moved along in every round
 * (variable projection; far fewer rounds than alternating fit and reparametrisation). `parameters` are first guesses
 * of the feet, `a` and `b` of the handles (mm, > 0). It stops early once no point is further than `enough` mm away.
 */
export function fitHandles(
  points: readonly Point[],
  parameters: readonly number[],
  t0: Point,
  t3: Point,
  a: number,
  b: number,
  enough = 0,
): HandleFit {
  let best = tryHandles(points, parameters, t0, t3, a, b);
  let damping = 1e-4;
  for (let round = 0; round < maxRounds && best.worst > enough; round++) {
    const aa = best.aa * (1 + damping);
    const bb = best.bb * (1 + damping);
    const determinant = aa * bb - best.ab * best.ab;
    if (!(determinant > 0)) break;
    const nextA = Math.max(best.a * 0.2, best.a - (best.ga * bb - best.gb * best.ab) / determinant);
    const nextB = Math.max(best.b * 0.2, best.b - (aa * best.gb - best.ab * best.ga) / determinant);
    const next = tryHandles(points, best.parameters, t0, t3, nextA, nextB);
    if (next.cost < best.cost) {
      const settled = next.cost > 0.98 * best.cost;
      best = next;
      damping /= 5;
      if (settled) break;
    } else {
      damping = Math.max(damping, 1e-9) * 10;
      if (damping > 1e4) break;
    }
  }
  return {
    curve: withHandles(points, t0, t3, best.a, best.b),
    parameters: best.parameters,
    worst: best.worst,
    worstIndex: best.worstIndex,
  };
}

function withHandles(points: readonly Point[], t0: Point, t3: Point, a: number, b: number): CubicSegment {
  const first = points[0]!;
  const last = points[points.length - 1]!;
  return cubic(
    first,
    { x: first.x + a * t0.x, y: first.y + a * t0.y },
    { x: last.x - b * t3.x, y: last.y - b * t3.y },
    last,
  );
}

function tryHandles(
  points: readonly Point[],
  guesses: readonly number[],
  t0: Point,
  t3: Point,
  a: number,
  b: number,
): Trial {
  const { start, control1, control2, end } = withHandles(points, t0, t3, a, b);
  // Power form of the cubic: position ((c3 t + c2) t + c1) t + start.
  const c1x = 3 * (control1.x - start.x);
  const c1y = 3 * (control1.y - start.y);
  const c2x = 3 * (start.x - 2 * control1.x + control2.x);
  const c2y = 3 * (start.y - 2 * control1.y + control2.y);
  const c3x = end.x - start.x + 3 * (control1.x - control2.x);
  const c3y = end.y - start.y + 3 * (control1.y - control2.y);
  const parameters = guesses.slice();
  let cost = 0;
  let worst = 0;
  let worstIndex = 0;
  let aa = 0;
  let ab = 0;
  let bb = 0;
  let ga = 0;
  let gb = 0;
  for (let i = 1; i < points.length - 1; i++) {
    const p = points[i]!;
    let t = guesses[i]!;
    let dx = 0;
    let dy = 0;
    let gapX = 0;
    let gapY = 0;
    for (let step = 0; step < 3; step++) {
      gapX = ((c3x * t + c2x) * t + c1x) * t + start.x - p.x;
      gapY = ((c3y * t + c2y) * t + c1y) * t + start.y - p.y;
      dx = (3 * c3x * t + 2 * c2x) * t + c1x;
      dy = (3 * c3y * t + 2 * c2y) * t + c1y;
      if (step === 2) break;
      const slope = dx * dx + dy * dy + gapX * (6 * c3x * t + 2 * c2x) + gapY * (6 * c3y * t + 2 * c2y);
      if (!(slope > 0)) break;
      const next = Math.min(1, Math.max(0, t - (gapX * dx + gapY * dy) / slope));
      if (next === t) break;
      t = next;
    }
    parameters[i] = t;
    const gap = Math.sqrt(gapX * gapX + gapY * gapY);
    if (!(gap <= worst)) {
      worst = gap;
      worstIndex = i;
    }
    cost += gap * gap;
    const speed = Math.sqrt(dx * dx + dy * dy);
    if (speed === 0) continue;
    const nx = -dy / speed;
    const ny = dx / speed;
    const along = gapX * nx + gapY * ny;
    const u = 1 - t;
    const ja = 3 * u * u * t * (nx * t0.x + ny * t0.y);
    const jb = -3 * u * t * t * (nx * t3.x + ny * t3.y);
    aa += ja * ja;
    ab += ja * jb;
    bb += jb * jb;
    ga += ja * along;
    gb += jb * along;
  }
  return { a, b, parameters, cost, worst, worstIndex, aa, ab, bb, ga, gb };
}
