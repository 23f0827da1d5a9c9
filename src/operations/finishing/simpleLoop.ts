import type { Point } from '../../geometry/point';

/**
 * True when the closed polygon crosses or touches itself other than at neighbouring corners.
 *
 * Cuts the polygon into runs that go one way in x and y, because such a run cannot cross itself; only runs whose boxes
 * overlap are compared side by side. A cut line has a few dozen runs, so this is far below comparing all sides.
 */
export function crossesItself(polygon: readonly Point[]): boolean {
  const runs = monotoneRuns(polygon);
  for (let i = 0; i < runs.length; i++) {
    for (let j = i + 1; j < runs.length; j++) {
      if (boxesOverlap(runs[i]!, runs[j]!) && runsMeet(polygon, runs[i]!, runs[j]!)) return true;
    }
  }
  return false;
}

/** Sides `from` to `to` - 1 of the polygon, with their box. */
interface Run {
  readonly from: number;
  readonly to: number;
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
}

/** Longer runs are cut up so that their boxes stay small. */
const longestRun = 12;

function monotoneRuns(polygon: readonly Point[]): Run[] {
  const count = polygon.length;
  const runs: Run[] = [];
  let from = 0;
  while (from < count) {
    const start = polygon[from]!;
    let end = polygon[(from + 1) % count]!;
    const right = end.x >= start.x;
    const down = end.y >= start.y;
    let to = from + 1;
    while (to < count && to - from < longestRun) {
      const next = polygon[(to + 1) % count]!;
      if (next.x >= end.x !== right || next.y >= end.y !== down) break;
      end = next;
      to += 1;
    }
    runs.push({
      from,
      to,
      minX: Math.min(start.x, end.x),
      maxX: Math.max(start.x, end.x),
      minY: Math.min(start.y, end.y),
      maxY: Math.max(start.y, end.y),
    });
    from = to;
  }
  return runs;
}

function boxesOverlap(a: Run, b: Run): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
}

function runsMeet(polygon: readonly Point[], one: Run, other: Run): boolean {
  const count = polygon.length;
  for (let i = one.from; i < one.to; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % count]!;
    for (let j = other.from; j < other.to; j++) {
      const apart = j - i;
      if (apart === 1 || apart === count - 1) continue;
      if (sidesMeet(a, b, polygon[j]!, polygon[(j + 1) % count]!)) return true;
    }
  }
  return false;
}

function sidesMeet(a: Point, b: Point, c: Point, d: Point): boolean {
  if (Math.max(a.y, b.y) < Math.min(c.y, d.y) || Math.max(c.y, d.y) < Math.min(a.y, b.y)) return false;
  if (Math.max(a.x, b.x) < Math.min(c.x, d.x) || Math.max(c.x, d.x) < Math.min(a.x, b.x)) return false;
  const c1 = side(a, b, c);
  const d1 = side(a, b, d);
  if (c1 > 0 === d1 > 0 && c1 !== 0 && d1 !== 0) return false;
  const a1 = side(c, d, a);
  const b1 = side(c, d, b);
  return !(a1 > 0 === b1 > 0 && a1 !== 0 && b1 !== 0);
}

function side(a: Point, b: Point, p: Point): number {
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}
