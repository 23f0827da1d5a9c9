import { distance, type Point, subtract } from '../../geometry/point';
import { cubic, type Segment } from '../../geometry/segment';

/** Points repeated beyond both ends of a closed curve: the effect of where it starts fades to a ten-millionth over them. */
const wrap = 12;

/**
 * The smooth cubic spline through points, its parameter running as the chords do. Directions at the ends are kept where
 * given; otherwise the curve is left to straighten out there (natural ends), and a closed one goes round smoothly.
 */
export function splineThrough(
  given: readonly Point[],
  closed: boolean,
  leaving: Point | null,
  arriving: Point | null,
): Segment[] {
  let points = given.filter((p, i) => i === 0 || distance(p, given[i - 1]!) > 0);
  if (closed && points.length > 1 && distance(points[0]!, points.at(-1)!) === 0) points = points.slice(0, -1);
  if (points.length < 2) return [];
  if (!closed || points.length < 3) return cubicsThrough(points, leaving, arriving);
  const round = points.length;
  const beyond = Array.from(
    { length: round + 2 * wrap + 1 },
    (_, i) => points[(((i - wrap) % round) + round) % round]!,
  );
  return cubicsThrough(beyond, null, null).slice(wrap, wrap + round);
}

function cubicsThrough(points: readonly Point[], leaving: Point | null, arriving: Point | null): Segment[] {
  const spans = points.slice(1).map((p, i) => distance(points[i]!, p));
  const slopes = points.slice(1).map((p, i) => {
    const step = subtract(p, points[i]!);
    return { x: step.x / spans[i]!, y: step.y / spans[i]! };
  });
  const speeds = solveSpeeds(spans, slopes, leaving, arriving);
  return spans.map((span, i) => {
    const [start, end, from, to] = [points[i]!, points[i + 1]!, speeds[i]!, speeds[i + 1]!];
    return cubic(
      start,
      { x: start.x + (from.x * span) / 3, y: start.y + (from.y * span) / 3 },
      { x: end.x - (to.x * span) / 3, y: end.y - (to.y * span) / 3 },
      end,
    );
  });
}

/** Derivatives at the points for which the second derivative has no step, by elimination in a band of three. */
function solveSpeeds(
  spans: readonly number[],
  slopes: readonly Point[],
  leaving: Point | null,
  arriving: Point | null,
): Point[] {
  const last = spans.length;
  const rows: { low: number; middle: number; high: number; right: Point }[] = [];
  for (let i = 0; i <= last; i++) {
    const before = slopes[i - 1];
    const after = slopes[i];
    const given = i === 0 ? leaving : i === last ? arriving : null;
    if (given) rows.push({ low: 0, middle: 1, high: 0, right: given });
    else if (!before) rows.push({ low: 0, middle: 2, high: 1, right: combined(slopes[0]!, 3, slopes[0]!, 0) });
    else if (!after) rows.push({ low: 1, middle: 2, high: 0, right: combined(before, 3, before, 0) });
    else {
      const [h0, h1] = [spans[i - 1]!, spans[i]!];
      rows.push({ low: h1, middle: 2 * (h0 + h1), high: h0, right: combined(before, 3 * h1, after, 3 * h0) });
    }
  }
  for (let i = 1; i <= last; i++) {
    const [above, row] = [rows[i - 1]!, rows[i]!];
    const share = row.low / above.middle;
    row.middle -= share * above.high;
    row.right = combined(row.right, 1, above.right, -share);
  }
  const backward: Point[] = [];
  let next: Point = { x: 0, y: 0 };
  for (let i = last; i >= 0; i--) {
    const { middle, high, right } = rows[i]!;
    next = { x: (right.x - high * next.x) / middle, y: (right.y - high * next.y) / middle };
    backward.push(next);
  }
  return backward.reverse();
}

function combined(a: Point, s: number, b: Point, t: number): Point {
  return { x: s * a.x + t * b.x, y: s * a.y + t * b.y };
}
