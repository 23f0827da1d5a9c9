import { pathLength } from '../../geometry/path';
import { distance, type Point } from '../../geometry/point';
import type { Path } from '../../geometry/segment';

/** One end of an open line. */
export interface LooseEnd {
  readonly line: number;
  readonly atStart: boolean;
}

export interface PairedEnds {
  /** For end 2 i (start of line i) and 2 i + 1 (its end): the end it is joined to. */
  readonly partners: readonly (LooseEnd | null)[];
  /** Places where more than two ends lay within the tolerance. */
  readonly crowded: number;
}

/** Ends looked at in one cell; more than this on one spot is a scribble, not an outline. */
const mostInCell = 64;

/** Pairs the ends of open lines that lie within `tolerance` mm, nearest first, each end once. */
export function pairEnds(open: readonly { readonly path: Path }[], tolerance: number): PairedEnds {
  const points = open.flatMap(({ path }): Point[] => [path[0]!.start, path.at(-1)!.end]);
  const partners: (LooseEnd | null)[] = points.map(() => null);
  if (!(tolerance >= 0)) return { partners, crowded: 0 };
  const lengths = open.map(({ path }) => pathLength(path, tolerance / 100 + 1e-6));
  // A line may close on itself, but not a dash whose two ends lie near each other only because it is short.
  const near = nearbyPairs(points, tolerance).filter(
    ({ a, b, apart }) => a >> 1 !== b >> 1 || lengths[a >> 1]! > 4 * apart,
  );
  near.sort((p, q) => p.apart - q.apart || p.a - q.a || p.b - q.b);
  const busy = new Set<number>();
  const meetings = new Map<number, number>();
  for (const { a, b } of near) {
    for (const end of [a, b]) meetings.set(end, (meetings.get(end) ?? 0) + 1);
    if (busy.has(a) || busy.has(b)) continue;
    busy.add(a);
    busy.add(b);
    partners[a] = endAt(b);
    partners[b] = endAt(a);
  }
  // Three ends on one spot each see the other two; counted as one place.
  const overfull = [...meetings].filter(([, count]) => count > 1).length;
  return { partners, crowded: Math.ceil(overfull / 3) };
}

function endAt(index: number): LooseEnd {
  return { line: index >> 1, atStart: index % 2 === 0 };
}

interface NearPair {
  readonly a: number;
  readonly b: number;
  readonly apart: number;
}

function nearbyPairs(points: readonly Point[], tolerance: number): NearPair[] {
  const size = Math.max(tolerance, 1e-6);
  const cells = new Map<string, number[]>();
  const pairs: NearPair[] = [];
  points.forEach((p, b) => {
    const cx = Math.floor(p.x / size);
    const cy = Math.floor(p.y / size);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const a of cells.get(`${cx + dx},${cy + dy}`) ?? []) {
          const apart = distance(points[a]!, p);
          if (apart <= tolerance) pairs.push({ a, b, apart });
        }
      }
    }
    const key = `${cx},${cy}`;
    const held = cells.get(key) ?? [];
    if (held.length < mostInCell) held.push(b);
    cells.set(key, held);
  });
  return pairs;
}
