import { dot, type Point } from '../../geometry/point';
import { borderMatch, goesOnStraight } from '../../geometry/tolerance';
import { type LineEnd, type Side, tailLength } from './lineEnds';
import { bestShift, type PageJoin, type Vote } from './pageJoin';
import type { PdfPage } from './pdfReading';

/** More ends than this on one side of a page are hatching; pairing them all would take too long. */
const mostEnds = 100;

/** Rise to run. A line that crosses the border squarer than this cannot tell how far two pages overlap. */
const leastSlant = 0.05;

/** mm. Lines of several sizes that run on each other are one piece of evidence. */
const samePlace = 1;

/** radians. Curves turn on their way through an overlap. */
const mostTurn = 0.5;

/** Shares of the line ends at a border that must go on, for a join at all and for a sure one. */
const leastAgreement = 0.75;
const sureAgreement = 0.8;

/**
 * mm. Programs write places to a twentieth of a mm at worst, so ends of one line meet within twice that; two that meet
 * less well may be two lines, and a join that rests on them is not sure.
 */
const sureMatch = 0.1;

const neighbours: readonly (readonly [Side, Side])[] = [
  ['right', 'left'],
  ['bottom', 'top'],
];

/**
 * Joins between pages whose lines go on across the border: to the right of the first page, or below it. The pages of one
 * sheet are level with each other; how far they overlap is told by the lines that cross the border aslant. Where all
 * cross it squarely, the overlap is that of the surer joins of the same sheet; without any the pages are laid edge to
 * edge, and the join is not sure.
 */
export function lineEndJoins(pages: readonly PdfPage[], ends: ReadonlyMap<number, readonly LineEnd[]>): PageJoin[] {
  const bySide = (page: PdfPage, side: Side) =>
    (ends.get(page.number) ?? []).filter((end) => end.side === side).slice(0, mostEnds);
  return neighbours.flatMap(([leaving, entering]) => {
    const outs = pages.map((page) => bySide(page, leaving));
    const ins = pages.map((page) => bySide(page, entering));
    const found = pages.flatMap((first, i) =>
      pages.flatMap((second, j): Pair[] => {
        if (i === j || outs[i]!.length === 0 || ins[j]!.length === 0) return [];
        const join = joinOf(outs[i]!, ins[j]!, leaving === 'right');
        return [{ first: first.number, second: second.number, outs: outs[i]!, ins: ins[j]!, join }];
      }),
    );
    const step = commonStep(found);
    return found.flatMap(({ first, second, ...pair }): PageJoin[] => {
      const join = (step && !pair.join?.sure ? atStep(pair, step) : null) ?? pair.join;
      return join ? [{ first, second, how: 'line-ends', ...join }] : [];
    });
  });
}

interface Pair {
  readonly first: number;
  readonly second: number;
  readonly outs: readonly LineEnd[];
  readonly ins: readonly LineEnd[];
  readonly join: Joined | null;
}

/** The shift that the sure joins have in common: the step of the grid the pages make. */
function commonStep(pairs: readonly Pair[]): Point | null {
  const votes = pairs.flatMap(({ join }) => (join?.sure ? [{ shift: join.shift, weight: join.matches }] : []));
  return bestShift(votes, borderMatch)?.best.shift ?? null;
}

function atStep({ outs, ins }: Pick<Pair, 'outs' | 'ins'>, step: Point): Joined | null {
  const join = counted(step, outs, ins);
  if (!join || join.agreement < leastAgreement) return null;
  return { ...join, sure: isPlain(join) };
}

type Joined = Pick<PageJoin, 'shift' | 'matches' | 'agreement' | 'worst' | 'sure'>;

function joinOf(outs: readonly LineEnd[], ins: readonly LineEnd[], across: boolean): Joined | null {
  const votes = outs.flatMap((a) => ins.flatMap((b) => overlapVotes(a, b, across)));
  const voted = bestShift(votes, borderMatch);
  const edge = edgeToEdge(outs, ins, across);
  const byVotes = voted ? counted(voted.best.shift, outs, ins) : null;
  const byEdge = counted(edge, outs, ins);
  const clear = voted !== null && voted.best.count > (voted.next?.count ?? 0);
  if (byVotes && byVotes.agreement >= leastAgreement && byVotes.matches >= (byEdge?.matches ?? 0)) {
    return { ...byVotes, sure: clear && isPlain(byVotes) };
  }
  return byEdge && byEdge.agreement >= leastAgreement ? { ...byEdge, sure: false } : null;
}

function isPlain({ matches, agreement, worst }: Omit<Joined, 'sure'>): boolean {
  return matches >= 2 && agreement >= sureAgreement && worst <= sureMatch;
}

/** The shift at which the second page begins where the first one ends. */
function edgeToEdge(outs: readonly LineEnd[], ins: readonly LineEnd[], across: boolean): Point {
  const a = outs[0]!.at;
  const b = ins[0]!.at;
  return across ? { x: a.x - b.x, y: 0 } : { x: 0, y: a.y - b.y };
}

/** The shifts that lay the end of `b` on the line of `a`, the pages being level. */
function overlapVotes(a: LineEnd, b: LineEnd, across: boolean): Vote[] {
  if (a.look !== b.look || -dot(a.out, b.out) < Math.cos(mostTurn)) return [];
  const level = (p: Point) => (across ? p.y : p.x);
  const along = (p: Point) => (across ? p.x : p.y);
  const height = level(b.at);
  const votes: Vote[] = [];
  for (let i = 0; i + 1 < a.tail.length; i++) {
    const p = a.tail[i]!;
    const q = a.tail[i + 1]!;
    const rise = level(q) - level(p);
    const run = along(q) - along(p);
    if (Math.abs(rise) < leastSlant * Math.abs(run)) continue;
    const t = (height - level(p)) / rise;
    // The line's very end counts as well: pages may only touch.
    const end = i === 0 ? borderMatch / Math.hypot(rise, run) : 0;
    if (t < -end || t > 1) continue;
    const length = Math.hypot(rise, run);
    const inward = { x: (q.x - p.x) / length, y: (q.y - p.y) / length };
    if (dot(inward, b.out) < Math.cos(goesOnStraight)) continue;
    const place = along(p) + Math.max(0, t) * run;
    const shift = place - along(b.at);
    votes.push({ shift: across ? { x: shift, y: 0 } : { x: 0, y: shift }, weight: 1 });
  }
  return votes;
}

/** The ends that meet at a shift, counted one to one: an end of the second page lies on a line of the first. */
function counted(shift: Point, outs: readonly LineEnd[], ins: readonly LineEnd[]): Omit<Joined, 'sure'> | null {
  const free = new Set(outs);
  const places: Point[] = [];
  let matches = 0;
  let worst = 0;
  for (const b of ins) {
    const at = { x: b.at.x + shift.x, y: b.at.y + shift.y };
    let nearest: LineEnd | null = null;
    let away = borderMatch;
    for (const a of free) {
      if (a.look !== b.look) continue;
      const apart = distanceToTail(a.tail, at, b.out);
      if (apart <= away) {
        nearest = a;
        away = apart;
      }
    }
    if (!nearest) continue;
    free.delete(nearest);
    matches++;
    if (places.every((p) => Math.hypot(p.x - b.at.x, p.y - b.at.y) > samePlace)) places.push(b.at);
    worst = Math.max(worst, away);
  }
  if (matches === 0) return null;
  return { shift, matches: places.length, agreement: matches / Math.max(outs.length, ins.length), worst };
}

/** mm from a place to a line's tail, where the tail runs in the direction given; infinite when it does so nowhere. */
function distanceToTail(tail: readonly Point[], at: Point, direction: Point): number {
  let best = Number.POSITIVE_INFINITY;
  if (Math.hypot(at.x - tail[0]!.x, at.y - tail[0]!.y) > 2 * tailLength) return best;
  for (let i = 0; i + 1 < tail.length; i++) {
    const p = tail[i]!;
    const q = tail[i + 1]!;
    const dx = q.x - p.x;
    const dy = q.y - p.y;
    const length = Math.hypot(dx, dy);
    if (length === 0 || (dx * direction.x + dy * direction.y) / length < Math.cos(goesOnStraight)) continue;
    const t = Math.min(1, Math.max(0, ((at.x - p.x) * dx + (at.y - p.y) * dy) / (length * length)));
    best = Math.min(best, Math.hypot(at.x - p.x - t * dx, at.y - p.y - t * dy));
  }
  return best;
}
