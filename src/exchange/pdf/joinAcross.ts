import { endTangent, pathEnd, pathStart, startTangent } from '../../geometry/path';
import { cross, distance, dot, mix, type Point, scale, subtract } from '../../geometry/point';
import { line, type Path, reversePath, type Segment } from '../../geometry/segment';
import { goesOnStraight, joinGap, sameLine, sameShape } from '../../geometry/tolerance';
import { endingAt, startingAt } from '../drawing/tidyPath';
import { lookOf } from './lineEnds';
import type { SheetShape } from './sheetShapes';

interface End {
  readonly line: number;
  readonly atStart: boolean;
  readonly at: Point;
  /** Direction in which the line would go on. */
  readonly out: Point;
}

export interface JoinedAcross {
  readonly shapes: readonly SheetShape[];
  /** Joins made, and the widest gap they closed, mm. */
  readonly joins: number;
  readonly widest: number;
}

/**
 * Joins lines that were cut at the border of two pages: ends on different pages within half a millimetre, of the same
 * look, one going on in the other's direction. A straight line cut in two becomes one straight line again.
 */
export function joinAcross(shapes: readonly SheetShape[]): JoinedAcross {
  const open = shapes.filter((shape) => !shape.closed && !shape.filled);
  const ends = open.flatMap(({ path }, i): End[] => [
    { line: i, atStart: true, at: pathStart(path), out: scale(startTangent(path), -1) },
    { line: i, atStart: false, at: pathEnd(path), out: endTangent(path) },
  ]);
  const { partners, joins, widest } = pairAcross(open, ends);
  if (joins === 0) return { shapes, joins, widest };
  const made = new Map<string, SheetShape>();
  const gone = new Set<string>();
  const used = new Set<number>();
  const follow = (first: number) => {
    const chain: { shape: SheetShape; path: Path }[] = [];
    let entering: number | null = first;
    let closed = false;
    while (entering !== null && !closed) {
      const i: number = entering >> 1;
      used.add(i);
      const shape = open[i]!;
      chain.push({ shape, path: entering % 2 === 0 ? shape.path : reversePath(shape.path) });
      entering = partners[entering ^ 1]!;
      if (entering !== null && used.has(entering >> 1)) closed = true;
    }
    if (chain.length < 2 && !closed) return;
    const head = chain[0]!.shape;
    const whole = linked(
      chain.map((link) => link.path),
      closed,
    );
    const meets = closed || distance(pathStart(whole), pathEnd(whole)) <= sameShape;
    const path = meets ? [...whole.slice(0, -1), endingAt(whole.at(-1)!, pathStart(whole))] : whole;
    for (const { shape } of chain) gone.add(shape.id);
    const nearText = chain.find(({ shape }) => shape.nearText !== null)?.shape.nearText ?? null;
    made.set(head.id, { ...head, path, closed: meets, nearText });
  };
  for (let end = 0; end < ends.length; end++) if (!used.has(end >> 1) && partners[end] === null) follow(end);
  for (let end = 0; end < ends.length; end += 2) if (!used.has(end >> 1)) follow(end);
  const joined = shapes.flatMap((shape) => made.get(shape.id) ?? (gone.has(shape.id) ? [] : shape));
  return { shapes: joined, joins, widest };
}

interface Paired {
  readonly partners: readonly (number | null)[];
  readonly joins: number;
  readonly widest: number;
}

function pairAcross(open: readonly SheetShape[], ends: readonly End[]): Paired {
  const looks = open.map(lookOf);
  const cells = new Map<string, number[]>();
  const near: { a: number; b: number; apart: number }[] = [];
  ends.forEach(({ at, line: mine, out }, b) => {
    const cx = Math.floor(at.x / joinGap);
    const cy = Math.floor(at.y / joinGap);
    for (const key of around(cx, cy)) {
      for (const a of cells.get(key) ?? []) {
        const other = ends[a]!;
        if (open[other.line]!.page === open[mine]!.page || looks[other.line] !== looks[mine]) continue;
        const apart = distance(at, other.at);
        if (apart <= joinGap && -dot(out, other.out) >= Math.cos(goesOnStraight)) near.push({ a, b, apart });
      }
    }
    const key = `${cx},${cy}`;
    cells.set(key, [...(cells.get(key) ?? []).slice(-63), b]);
  });
  near.sort((p, q) => p.apart - q.apart || p.a - q.a || p.b - q.b);
  const partners: (number | null)[] = ends.map(() => null);
  let joins = 0;
  let widest = 0;
  for (const { a, b, apart } of near) {
    if (partners[a] !== null || partners[b] !== null) continue;
    partners[a] = b;
    partners[b] = a;
    joins++;
    widest = Math.max(widest, apart);
  }
  return { partners, joins, widest };
}

function around(cx: number, cy: number): string[] {
  return [-1, 0, 1].flatMap((i) => [-1, 0, 1].map((j) => `${cx + i},${cy + j}`));
}

/** Paths one after the other; neighbouring ends meet half-way. */
function linked(paths: readonly Path[], closed: boolean): Path {
  const all: Segment[] = [];
  for (const path of paths) {
    if (all.length === 0) all.push(...path);
    else lay(all, path);
  }
  if (!closed) return all;
  const [first, ...rest] = all;
  const turned: Segment[] = [...rest];
  if (turned.length === 0) return all;
  lay(turned, [first!]);
  const end = turned.at(-1)!;
  turned[0] = startingAt(turned[0]!, end.end);
  return turned;
}

function lay(all: Segment[], path: Path): void {
  const last = all.at(-1)!;
  const next = path[0]!;
  const meeting = mix(last.end, next.start, 0.5);
  if (last.kind === 'line' && next.kind === 'line' && isOneLine(last.start, meeting, next.end)) {
    all[all.length - 1] = line(last.start, next.end);
  } else {
    all[all.length - 1] = endingAt(last, meeting);
    all.push(startingAt(next, meeting));
  }
  all.push(...path.slice(1));
}

/** Whether the middle place lies on the straight line between the others. */
function isOneLine(from: Point, through: Point, to: Point): boolean {
  const whole = subtract(to, from);
  const length = Math.hypot(whole.x, whole.y);
  return length > 0 && Math.abs(cross(whole, subtract(through, from))) <= sameLine * length;
}
