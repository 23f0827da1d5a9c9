import { intersectPaths } from '../../geometry/intersect';
import { distance, type Point } from '../../geometry/point';
import { line, type Path, type Segment, subSegment } from '../../geometry/segment';

/** A place on a path: a segment by its index, and the parameter in it. */
export interface PathPlace {
  readonly segment: number;
  readonly t: number;
}

export interface Crossing {
  readonly point: Point;
  /** Where it lies on the first and on the second path. */
  readonly onBefore: PathPlace;
  readonly onAfter: PathPlace;
}

/** All crossings of two paths. */
export function crossings(before: Path, after: Path): Crossing[] {
  return intersectPaths(before, after).map((hit) => ({
    point: hit.point,
    onBefore: { segment: hit.segmentA, t: hit.ta },
    onAfter: { segment: hit.segmentB, t: hit.tb },
  }));
}

/** The crossing that takes least off the end of the first path and the start of the second, or null. */
export function nearestCrossing(before: Path, after: Path): Crossing | null {
  let best: Crossing | null = null;
  let bestCost = Number.POSITIVE_INFINITY;
  for (const crossing of crossings(before, after)) {
    const cost = before.length - placeNumber(crossing.onBefore) + placeNumber(crossing.onAfter);
    if (cost < bestCost) {
      best = crossing;
      bestCost = cost;
    }
  }
  return best;
}

/** One number that grows along the path. */
export function placeNumber(place: PathPlace): number {
  return place.segment + place.t;
}

/** The path between two places (null: its own end), with the given points put exactly at the new ends. */
export function trimPath(path: Path, from: PathPlace | null, to: PathPlace | null, start?: Point, end?: Point): Path {
  const first = from ?? { segment: 0, t: 0 };
  const last = to ?? { segment: path.length - 1, t: 1 };
  const kept: Segment[] = [];
  for (let i = first.segment; i <= last.segment; i++) {
    const t0 = i === first.segment ? first.t : 0;
    const t1 = i === last.segment ? last.t : 1;
    if (t1 > t0) kept.push(subSegment(path[i]!, t0, t1));
  }
  if (start && kept.length > 0) kept[0] = { ...kept[0]!, start };
  if (end && kept.length > 0) kept[kept.length - 1] = { ...kept[kept.length - 1]!, end };
  return kept;
}

/** Straight lines through the points in order, without those of no length. */
export function linesThrough(points: readonly Point[]): Segment[] {
  const lines: Segment[] = [];
  for (let i = 1; i < points.length; i++) {
    const from = lines.length > 0 ? lines[lines.length - 1]!.end : points[0]!;
    if (distance(from, points[i]!) > 0) lines.push(line(from, points[i]!));
  }
  return lines;
}

/** Where two infinite lines meet, or null when they are parallel. Directions are unit vectors. */
export function lineMeeting(a: Point, alongA: Point, b: Point, alongB: Point): Point | null {
  const sine = alongA.x * alongB.y - alongA.y * alongB.x;
  if (Math.abs(sine) < 1e-12) return null;
  const s = ((b.x - a.x) * alongB.y - (b.y - a.y) * alongB.x) / sine;
  return { x: a.x + s * alongA.x, y: a.y + s * alongA.y };
}
