import { fitCubic } from '../geometry/fit';
import { flattenPath } from '../geometry/flatten';
import { nearestOnSegment } from '../geometry/nearest';
import { cross, distance, dot, mix, type Point, scale, subtract, unit } from '../geometry/point';
import { line, type Path, type Segment } from '../geometry/segment';
import { cornerSnap, traceDeviation } from '../geometry/tolerance';
import type { OutlineCorner } from './cornerProposal';
import { beginningOf, crossing, directionOn, distanceTo, pointOn } from './oneSided';

export interface SmoothedOutline {
  readonly path: Path;
  /** The same corners on the new path, which begins at the first of them. */
  readonly corners: readonly OutlineCorner[];
  /** Largest distance of any point of the old outline from the new one, mm; and of the new from the old, away from rebuilt corners. */
  readonly deviation: number;
  /** How far the farthest rebuilt corner stands out where the trace cut across it, mm; 0 when none was rebuilt. */
  readonly cornerGain: number;
  readonly segmentsBefore: number;
  readonly segmentsAfter: number;
  /** Edges that could not be drawn with few curves within the deviation and were left as they are. */
  readonly roughEdges: number;
  /** What was done, for the maker. */
  readonly sentence: string;
}

/** Segments in an edge from which on it counts as a trace of many small steps, to be drawn with fewer. */
const traceSteps = 12;

/** Steps shorter than this many times the deviation say nothing about direction. */
const closestSteps = 3;

/**
 * Points handed to one fit. A longer trace is thinned, each kept point standing for its neighbours, and the deviation
 * still measured on every traced point; of these thinnings the one that needs fewest curves is taken.
 */
const thinnings = [300, 100, 50, 25, 14];

/** A redrawn edge must have at most this share of the segments it had, or the trace is too rough to be worth it. */
const worthwhile = 1 / 4;

/**
 * Redraws the traced edges of a closed outline (many small steps between two corners) with few lines and smooth cubics,
 * no further than `maxDeviation` mm from every traced point; edges with few segments are left exactly as they are.
 * A trace seldom has a point exactly on a corner: where both sides, carried on, meet just beyond it, the corner is
 * rebuilt there. Outlines without corners are begun at their start and smooth everywhere but there.
 */
export function smoothOutline(
  closedPath: Path,
  corners: readonly OutlineCorner[],
  maxDeviation = traceDeviation,
): SmoothedOutline {
  const starts = corners.length > 0 ? corners.map((corner) => corner.segment) : [0];
  const edges = starts.map((start, i) => wrapped(closedPath, start, starts[(i + 1) % starts.length]!));
  const traces = edges.map((edge) => (edge.length < traceSteps ? null : flattenPath(edge, maxDeviation / 10)));
  const turns = edges.map((edge, i) => {
    const before = traces.at(i - 1);
    const after = traces[i];
    return corners.length > 0 && before && after ? rebuilt(before, after, maxDeviation) : keptCorner(edge[0]!.start);
  });
  const path: Segment[] = [];
  const moved: OutlineCorner[] = [];
  let deviation = 0;
  let roughEdges = 0;
  edges.forEach((edge, i) => {
    const corner = corners[i];
    const from = turns[i]!;
    const to = turns[(i + 1) % turns.length]!;
    if (corner) moved.push({ ...corner, segment: path.length, point: from.point });
    const trace = traces[i];
    const drawn = trace ? redraw(trace, from, to, maxDeviation) : null;
    const redrawn = drawn && drawn.path.length <= edge.length * worthwhile ? drawn : null;
    if (trace && !redrawn) roughEdges++;
    deviation = Math.max(deviation, redrawn?.deviation ?? 0);
    path.push(...(redrawn?.path ?? endingAt(edge, from.point, to.point)));
  });
  const cornerGain = Math.max(0, ...turns.map((turn) => turn.gain));
  const counts = { segmentsBefore: closedPath.length, segmentsAfter: path.length };
  return { path, corners: moved, deviation, cornerGain, roughEdges, ...counts, sentence: say() };

  function say(): string {
    const rough =
      roughEdges > 0
        ? ` ${roughEdges} of its ${edges.length} edges are too rough to be drawn smoothly within ${maxDeviation} mm; allow more, or draw them by hand.`
        : '';
    if (path.length >= closedPath.length) return `The outline is kept exactly as it is.${rough}`;
    const gain =
      cornerGain > 0 ? ` Corners the trace cut across were rebuilt, by ${cornerGain.toFixed(2)} mm at most.` : '';
    return `${closedPath.length} small steps were drawn as ${path.length} lines and curves, nowhere more than ${deviation.toFixed(3)} mm from them.${gain}${rough}`;
  }
}

/** A corner as it will be drawn: where, and how much of the traces on both sides to leave out next to it. */
interface Turn {
  readonly point: Point;
  readonly gain: number;
  /** The traced corner point belongs to the edge before, the edge after, or (unmoved) both. */
  readonly traced: 'before' | 'after' | 'both';
}

function keptCorner(point: Point): Turn {
  return { point, gain: 0, traced: 'both' };
}

/**
 * The corner between two traces whose common point lies somewhere near it. Both sides are carried on without that point;
 * their crossing is taken when the point lies on one of them and no more than a step away.
 */
function rebuilt(before: readonly Point[], after: readonly Point[], maxDeviation: number): Turn {
  const traced = after[0]!;
  const back = before.slice(0, -1).reverse();
  const ahead = after.slice(1);
  const incoming = beginningOf(spaced(back, maxDeviation));
  const outgoing = beginningOf(spaced(ahead, maxDeviation));
  const meeting = incoming && outgoing ? crossing(incoming, outgoing) : null;
  if (!incoming || !outgoing || !meeting) return keptCorner(traced);
  const point = pointOn(outgoing, meeting.ub);
  // In a trace finer than its own error the corner may be found a little before or beyond where its steps turn.
  const slack = closestSteps * maxDeviation;
  const step = Math.max(slack, distance(traced, back[0]!), distance(traced, ahead[0]!));
  const gain = distance(point, traced);
  // A side carried on from steps this long is itself only known so well.
  const near = Math.max(maxDeviation, step / 20);
  const offBefore = distanceTo(incoming, traced);
  const offAfter = distanceTo(outgoing, traced);
  // Both sides must be carried on, not back: the corner lies beyond what was traced of either.
  const beyond = meeting.ua <= slack && meeting.ub <= slack;
  if (gain <= cornerSnap || gain > step || !beyond || Math.min(offBefore, offAfter) > near) {
    return keptCorner(traced);
  }
  const cut = offBefore < offAfter ? [traced, ahead[0]!] : [back[0]!, traced];
  return {
    point,
    gain: nearestOnSegment(line(cut[0]!, cut[1]!), point).distance,
    traced: offBefore < offAfter ? 'before' : 'after',
  };
}

/** Segments from `start` up to `end`, round the joint where the path closes; the whole path when both are the same. */
function wrapped(path: Path, start: number, end: number): Path {
  return start < end ? path.slice(start, end) : [...path.slice(start), ...path.slice(0, end)];
}

/** An edge kept as it is, except that its ends go to corners that a neighbour may have moved. */
function endingAt(edge: Path, start: Point, end: Point): Path {
  return edge.map((segment, i) => ({
    ...segment,
    ...(i === 0 ? { start } : {}),
    ...(i === edge.length - 1 ? { end } : {}),
  }));
}

interface Redrawn {
  readonly path: Path;
  readonly deviation: number;
}

function redraw(trace: readonly Point[], from: Turn, to: Turn, maxDeviation: number): Redrawn | null {
  const inner = trace.slice(1, -1);
  const first = from.traced === 'after' ? [from.point, trace[0]!] : [from.point];
  const last = to.traced === 'before' ? [trace.at(-1)!, to.point] : [to.point];
  const points = [...first, ...inner, ...last];
  const straight = straightened(points, maxDeviation);
  if (straight) return straight;
  const leaving = directionAtStart(points, maxDeviation);
  const arriving = scale(directionAtStart([...points].reverse(), maxDeviation), -1);
  let best: Redrawn | null = null;
  for (const most of thinnings) {
    const thinned = thin(points, most);
    const fitted = fitCubic(thinned, leaving, arriving, 0.95 * maxDeviation);
    if (fitted.length >= (best?.path.length ?? trace.length - 1)) continue;
    const deviation = apartness(points, fitted);
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
function spaced(points: readonly Point[], maxDeviation: number): Point[] {
  const kept: Point[] = [];
  for (const p of points) {
    if (kept.length === 0 || distance(kept.at(-1)!, p) >= closestSteps * maxDeviation) kept.push(p);
    if (kept.length > 400) break;
  }
  return kept;
}

/** Largest distance from any of the points to the curve, and from the curve back to the chain of points. */
function apartness(points: readonly Point[], fitted: Path): number {
  const chain = points.slice(1).map((p, i) => line(points[i]!, p));
  const flat = flattenPath(fitted, 0.01);
  const back = flat.flatMap((p, i) => (i === 0 ? [p] : [mix(flat[i - 1]!, p, 0.5), p]));
  return Math.max(farthest(points, fitted), farthest(back, chain));
}

/** Distance of the point farthest from a path that runs alongside them, each looked for around its own share of the way. */
function farthest(points: readonly Point[], path: Path): number {
  const ends = shares(path.map((segment) => distance(segment.start, segment.end)));
  const places = shares(points.slice(1).map((p, i) => distance(points[i]!, p)));
  let worst = 0;
  let middle = 0;
  points.forEach((p, i) => {
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
  });
  return worst;
}

/** Running sums of the lengths as shares of their total, beginning with 0. */
function shares(lengths: readonly number[]): number[] {
  const sums = [0];
  for (const length of lengths) sums.push(sums.at(-1)! + length);
  const whole = sums.at(-1)!;
  return sums.map((sum) => (whole > 0 ? sum / whole : 0));
}
