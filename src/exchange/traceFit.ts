import { fitCubic } from '../geometry/fit';
import { flattenPath } from '../geometry/flatten';
import { nearestOnSegment } from '../geometry/nearest';
import { cross, distance, dot, mix, type Point, scale, subtract, unit } from '../geometry/point';
import { line, type Path } from '../geometry/segment';
import { beginningOf, directionOn } from './oneSided';

/** Steps shorter than this many times the deviation say nothing about direction. */
export const closestSteps = 3;

/**
 * Points handed to one fit. A longer trace is thinned, each kept point standing for its neighbours, and the deviation
 * still measured on every traced point; of these thinnings the one that needs fewest curves is taken.
 */
const thinnings = [300, 100, 50, 25, 14];

export interface KnownEnds {
  readonly leaving?: Point;
  readonly arriving?: Point;
}

export interface Redrawn {
  readonly path: Path;
  /** Largest distance from any of the points to the line, and from the line back to the chain of points, mm. */
  readonly deviation: number;
}

/**
 * Few lines and smooth cubics through the first and the last point, within `maxDeviation` mm of all of them: one straight
 * line where that will do. Null when a smooth line cannot stay that near. Where the direction it leaves or arrives in is
 * known (unit, the way of travel), a curve has exactly that.
 */
export function redraw(points: readonly Point[], maxDeviation: number, known: KnownEnds = {}): Redrawn | null {
  const straight = straightened(points, maxDeviation);
  if (straight) return straight;
  const leaving = known.leaving ?? directionAtStart(points, maxDeviation);
  const arriving = known.arriving ?? scale(directionAtStart([...points].reverse(), maxDeviation), -1);
  let best: Redrawn | null = null;
  for (const most of thinnings) {
    const thinned = thin(points, most);
    const fitted = fitCubic(thinned, leaving, arriving, 0.95 * maxDeviation);
    if (fitted.length >= (best?.path.length ?? points.length - 1)) continue;
    const deviation = apartness(points, fitted, maxDeviation);
    if (deviation <= maxDeviation) best = { path: fitted, deviation };
  }
  return best;
}

function straightened(points: readonly Point[], maxDeviation: number): Redrawn | null {
  const start = points[0]!;
  const end = points.at(-1)!;
  const chord = unit(subtract(end, start));
  if (distance(start, end) <= maxDeviation) return null;
  let deviation = 0;
  let reached = 0;
  for (const p of points) {
    const off = subtract(p, start);
    const along = dot(chord, off);
    // Doubling back along the chord is no straight line, however narrow.
    if (along < reached - maxDeviation) return null;
    reached = Math.max(reached, along);
    deviation = Math.max(deviation, Math.abs(cross(chord, off)));
  }
  return deviation <= maxDeviation ? { path: [line(start, end)], deviation } : null;
}

/**
 * At most `most` points, evenly spread, both ends kept. Each inner one is the middle of a least-squares parabola through
 * its neighbours (Savitzky and Golay, 1964), which averages small errors of the trace and keeps its bend.
 */
function thin(points: readonly Point[], most: number): readonly Point[] {
  if (points.length <= most) return points;
  const last = points.length - 1;
  const reach = Math.floor(last / (most - 1) / 2);
  return Array.from({ length: most }, (_, i) => {
    const at = Math.round((i * last) / (most - 1));
    return smoothedAt(points, at, Math.min(reach, at, last - at));
  });
}

function smoothedAt(points: readonly Point[], at: number, m: number): Point {
  if (m < 2) return points[at]!;
  let x = 0;
  let y = 0;
  for (let k = -m; k <= m; k++) {
    const weight = (3 * (3 * m * m + 3 * m - 1) - 15 * k * k) / ((2 * m - 1) * (2 * m + 1) * (2 * m + 3));
    x += weight * points[at + k]!.x;
    y += weight * points[at + k]!.y;
  }
  return { x, y };
}

function directionAtStart(points: readonly Point[], maxDeviation: number): Point {
  const side = beginningOf(spaced(points, maxDeviation));
  return side ? directionOn(side, 0) : { x: 0, y: 0 };
}

/**
 * The points without those that follow the last kept one more closely than its error lets one tell, so that the way
 * along them is not made longer by going to and fro. Only as many as a direction is taken from.
 */
export function spaced(points: readonly Point[], maxDeviation: number): Point[] {
  const kept: Point[] = [];
  for (const p of points) {
    if (kept.length === 0 || distance(kept.at(-1)!, p) >= closestSteps * maxDeviation) kept.push(p);
    if (kept.length > 400) break;
  }
  return kept;
}

/** Largest distance from any of the points to the curve, and from the curve back to the chain of points; beyond `limit` the first that is. */
function apartness(points: readonly Point[], fitted: Path, limit: number): number {
  const there = farthest(points, fitted, limit);
  if (there > limit) return there;
  const chain = points.slice(1).map((p, i) => line(points[i]!, p));
  const flat = flattenPath(fitted, 0.01);
  const back = flat.flatMap((p, i) => (i === 0 ? [p] : [mix(flat[i - 1]!, p, 0.5), p]));
  return Math.max(there, farthest(back, chain, limit));
}

/** Distance of the point farthest from a path that runs alongside them, each looked for around its own share of the way; no further than the first beyond `limit`. */
function farthest(points: readonly Point[], path: Path, limit: number): number {
  const ends = shares(path.map((segment) => distance(segment.start, segment.end)));
  const places = shares(points.slice(1).map((p, i) => distance(points[i]!, p)));
  let worst = 0;
  let middle = 0;
  for (const [i, p] of points.entries()) {
    const at = places[i]!;
    while (middle < path.length - 1 && ends[middle + 1]! < at) middle++;
    let nearest = Number.POSITIVE_INFINITY;
    const look = (k: number) => {
      nearest = Math.min(nearest, nearestOnSegment(path[k]!, p).distance);
    };
    // A twentieth of the way, and never fewer than a few segments, on both sides.
    for (let k = middle; k >= 0 && (middle - k < 4 || at - ends[k + 1]! < 0.05); k--) look(k);
    for (let k = middle + 1; k < path.length && (k - middle < 4 || ends[k]! - at < 0.05); k++) look(k);
    worst = Math.max(worst, nearest);
    if (worst > limit) break;
  }
  return worst;
}

/** Running sums of the lengths as shares of their total, beginning with 0. */
function shares(lengths: readonly number[]): number[] {
  const sums = [0];
  for (const length of lengths) sums.push(sums.at(-1)! + length);
  const whole = sums.at(-1)!;
  return sums.map((sum) => (whole > 0 ? sum / whole : 0));
}
