import { flattenPath } from '../geometry/flatten';
import { angleBetween, distance, mix, type Point } from '../geometry/point';
import type { Path, Segment } from '../geometry/segment';
import { unitTangentAt } from '../geometry/tangent';
import { proposedCornerTurn } from '../geometry/tolerance';

/** A place on an outline where it turns sharply. */
export interface OutlineCorner {
  /** Index of the segment that starts there; `t` is always 0, since corners are proposed at joints. */
  readonly segment: number;
  readonly t: 0;
  readonly point: Point;
  /** Turn of the direction of travel, radians, positive from x towards y; negative at an outward corner of a piece. */
  readonly turn: number;
}

/** Windows are this share of the whole way round: 8 mm on a skirt front of 1,600 mm. No unit is needed, so scale need not be known. */
const windowShare = 1 / 200;

/** Samples taken in each window, besides the joint itself. */
const samples = 8;

/** Joints looked at; denser ones are passed over, which moves a corner by less than a hundredth of a window. */
const mostJoints = 20_000;

/**
 * Corners of a closed outline, in order along it, offered for the maker to accept or move.
 *
 * Between long segments the turn is that of their own end directions. Inside a traced chain of short segments, where
 * every joint turns a little, the directions on both sides are taken over a window instead, by a least-squares parabola
 * each, so that a smooth curve has no turn and a corner keeps all of it; of the joints within one window the sharpest
 * is offered. Empty for a path that is not closed or has no extent.
 */
export function proposeCorners(closedPath: Path): OutlineCorner[] {
  const rail = layRail(closedPath);
  if (!rail) return [];
  const window = rail.whole * windowShare;
  const roughTurn = surelyTurned * directionError(rail, window);
  const candidates: Candidate[] = [];
  let lastTried = Number.NEGATIVE_INFINITY;
  closedPath.forEach((segment, i) => {
    const at = rail.joints[i]!;
    if (at - lastTried < rail.whole / mostJoints) return;
    lastTried = at;
    const before = closedPath[(i + closedPath.length - 1) % closedPath.length]!;
    const exact = Math.min(rail.length(i), rail.length((i + closedPath.length - 1) % closedPath.length)) >= window / 2;
    const turn = exact
      ? angleBetween(unitTangentAt(before, 1), unitTangentAt(segment, 0))
      : angleBetween(rail.slope(at, -window / samples), rail.slope(at, window / samples));
    if (Math.abs(turn) >= (exact ? proposedCornerTurn : Math.max(proposedCornerTurn, roughTurn)))
      candidates.push({ segment: i, at, turn, exact });
  });
  return sharpest(withoutCutCorners(candidates, rail, window, closedPath.length), window, rail.whole)
    .sort((a, b) => a.segment - b.segment)
    .map(({ segment, turn }) => ({ segment, t: 0, point: closedPath[segment]!.start, turn }));
}

/** Turns this many times their own error are none of the trace's roughness (a normal error passes it once in 2,000 places). */
const surelyTurned = 3.5;

/** Places round the outline where its roughness is looked at. */
const roughnessProbes = 60;

/**
 * How unsure the turn between two windows is, radians. A smooth outline turns nowhere but at its corners, so what half of
 * its places turn by is the roughness of its trace (1.4826: median to standard deviation of a normal error).
 */
function directionError(rail: Rail, window: number): number {
  const step = window / samples;
  const turns = Array.from({ length: roughnessProbes }, (_, k) => {
    const at = (k / roughnessProbes) * rail.whole;
    return Math.abs(angleBetween(rail.slope(at, -step), rail.slope(at, step)));
  });
  return 1.4826 * turns.sort((a, b) => a - b)[roughnessProbes >> 1]!;
}

interface Candidate {
  readonly segment: number;
  readonly at: number;
  readonly turn: number;
  readonly exact: boolean;
}

/**
 * A trace seldom has a point on a corner, so its chord cuts across and makes two corners of one. Of two such neighbours,
 * turning the same way between steps no longer than the window, the sharper stays; a step or a chamfer that was drawn has
 * long lines beside it or turns back again.
 */
function withoutCutCorners(candidates: readonly Candidate[], rail: Rail, window: number, count: number): Candidate[] {
  const short = (segment: number) => rail.length((segment + count) % count) < window;
  return candidates.filter((candidate) => {
    if (!candidate.exact) return true;
    const weaker = candidates.find((other) => {
      const cut = (candidate.segment + 1) % count === other.segment ? candidate.segment : other.segment;
      const areNeighbours = (other.segment + 1) % count === candidate.segment || cut === candidate.segment;
      const sameWay = other.turn * candidate.turn > 0;
      if (!other.exact || other === candidate || !areNeighbours || !sameWay) return false;
      if (!short(cut - 1) || !short(cut) || !short(cut + 1)) return false;
      const sharper = Math.abs(other.turn) - Math.abs(candidate.turn);
      return sharper > 0 || (sharper === 0 && other.segment < candidate.segment);
    });
    return !weaker;
  });
}

/** One corner per window, the sharpest first; corners between long segments are certain and never give way. */
function sharpest(candidates: readonly Candidate[], window: number, whole: number): Candidate[] {
  const kept: Candidate[] = [];
  const ranked = [...candidates].sort(
    (a, b) => Number(b.exact) - Number(a.exact) || Math.abs(b.turn) - Math.abs(a.turn) || a.segment - b.segment,
  );
  for (const candidate of ranked) {
    const crowded = kept.some((other) => {
      const apart = Math.abs(candidate.at - other.at);
      return Math.min(apart, whole - apart) < window;
    });
    if (candidate.exact || !crowded) kept.push(candidate);
  }
  return kept;
}

/** The outline as a chain of chords with the distance along it, to measure directions over a window. */
interface Rail {
  readonly whole: number;
  /** Where each segment starts. */
  readonly joints: readonly number[];
  length(segment: number): number;
  /** Direction at `at` of the parabola through the samples at `at`, `at + step`, `at + 2 step` ..., in the sense of travel. */
  slope(at: number, step: number): Point;
}

function layRail(path: Path): Rail | null {
  const rough = path.reduce((sum, segment) => sum + roughLength(segment), 0);
  const first = path[0];
  if (!first || !(rough > 0) || !Number.isFinite(rough)) return null;
  if (distance(first.start, path.at(-1)!.end) > rough * 1e-6) return null;
  const points: Point[] = [first.start];
  const along: number[] = [0];
  const joints: number[] = [];
  for (const segment of path) {
    joints.push(along.at(-1)!);
    for (const point of flattenPath([segment], (rough * windowShare) / 400).slice(1)) {
      along.push(along.at(-1)! + distance(points.at(-1)!, point));
      points.push(point);
    }
  }
  const whole = along.at(-1)!;
  const pointAt = (at: number): Point => {
    const wrapped = ((at % whole) + whole) % whole;
    const i = lastAtMost(along, wrapped);
    const gap = along[i + 1]! - along[i]!;
    return mix(points[i]!, points[i + 1]!, gap > 0 ? (wrapped - along[i]!) / gap : 0);
  };
  return {
    whole,
    joints,
    length: (segment) => (joints[segment + 1] ?? whole) - joints[segment]!,
    slope: (at, step) => {
      let x = 0;
      let y = 0;
      for (let k = 0; k <= samples; k++) {
        const p = pointAt(at + k * step);
        x += slopeWeights[k]! * p.x;
        y += slopeWeights[k]! * p.y;
      }
      return step < 0 ? { x: -x, y: -y } : { x, y };
    },
  };
}

function roughLength(segment: Segment): number {
  return segment.kind === 'line'
    ? distance(segment.start, segment.end)
    : distance(segment.start, segment.control1) +
        distance(segment.control1, segment.control2) +
        distance(segment.control2, segment.end);
}

/** Index of the last entry not above `value`, at most the last but one. */
function lastAtMost(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (sorted[middle]! <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Weights that give, from values at 0, 1, 2 ..., the slope at 0 of their least-squares parabola (normal equations solved once). */
const slopeWeights: readonly number[] = (() => {
  const n = Array.from({ length: samples + 1 }, (_, k) => k);
  const sum = (power: number) => n.reduce((total, k) => total + k ** power, 0);
  const [s0, s1, s2, s3, s4] = [sum(0), sum(1), sum(2), sum(3), sum(4)] as [number, number, number, number, number];
  const determinant = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2);
  return n.map((k) => (-(s1 * s4 - s2 * s3) + (s0 * s4 - s2 * s2) * k - (s0 * s3 - s1 * s2) * k * k) / determinant);
})();
