import type { Point } from '../../geometry/point';

/** How a second page lies when laid against a first one. */
export interface PageJoin {
  readonly first: number;
  readonly second: number;
  /** Upper left corner of the second page as seen from that of the first, mm. */
  readonly shift: Point;
  readonly how: 'same-drawing' | 'line-ends' | 'marks' | 'labels' | 'order';
  /** Things that agree: shapes, or line ends. */
  readonly matches: number;
  /** Share of the things that should agree which do, 0 to 1. */
  readonly agreement: number;
  /** Largest distance between two that should meet, mm. */
  readonly worst: number;
  readonly sure: boolean;
}

/** One piece of evidence for a shift. */
export interface Vote {
  readonly shift: Point;
  readonly weight: number;
}

export interface VotedShift {
  readonly shift: Point;
  readonly weight: number;
  readonly count: number;
  /** mm. Largest distance of a vote from the mean. */
  readonly worst: number;
}

/** The shift most votes agree on to within `give` mm, and the one after it. Null without votes. */
export function bestShift(votes: readonly Vote[], give: number): { best: VotedShift; next: VotedShift | null } | null {
  const cells = new Map<string, number[]>();
  votes.forEach(({ shift }, i) => {
    const key = `${Math.round(shift.x / give)},${Math.round(shift.y / give)}`;
    const held = cells.get(key);
    if (held) held.push(i);
    else cells.set(key, [i]);
  });
  let best: VotedShift | null = null;
  let next: VotedShift | null = null;
  for (const [key] of cells) {
    const [cx, cy] = key.split(',').map(Number) as [number, number];
    const near = [-1, 0, 1].flatMap((i) => [-1, 0, 1].flatMap((j) => cells.get(`${cx + i},${cy + j}`) ?? []));
    const found = meanShift(
      near.map((i) => votes[i]!),
      { x: cx * give, y: cy * give },
      give,
    );
    if (!found) continue;
    if (best && Math.hypot(found.shift.x - best.shift.x, found.shift.y - best.shift.y) <= 2 * give) {
      if (found.weight > best.weight) best = found;
    } else if (!best || found.weight > best.weight) {
      next = best;
      best = found;
    } else if (!next || found.weight > next.weight) next = found;
  }
  return best && { best, next };
}

function meanShift(votes: readonly Vote[], about: Point, give: number): VotedShift | null {
  let middle = about;
  let kept: readonly Vote[] = votes;
  for (let round = 0; round < 3; round++) {
    kept = votes.filter(({ shift }) => Math.hypot(shift.x - middle.x, shift.y - middle.y) <= give);
    const weight = kept.reduce((sum, vote) => sum + vote.weight, 0);
    if (!(weight > 0)) return null;
    middle = {
      x: kept.reduce((sum, vote) => sum + vote.shift.x * vote.weight, 0) / weight,
      y: kept.reduce((sum, vote) => sum + vote.shift.y * vote.weight, 0) / weight,
    };
  }
  return {
    shift: middle,
    weight: kept.reduce((sum, vote) => sum + vote.weight, 0),
    count: kept.length,
    worst: Math.max(...kept.map(({ shift }) => Math.hypot(shift.x - middle.x, shift.y - middle.y))),
  };
}
