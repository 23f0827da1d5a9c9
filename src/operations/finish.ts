import { flattenPath } from '../geometry/flatten';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import type { Point } from '../geometry/point';
import { cross, distance, dot, norm, subtract } from '../geometry/point';
import { line, type Path, type Segment } from '../geometry/segment';
import { allowanceChord, cutLineCheckChord, samePoint } from '../geometry/tolerance';
import { nameInSentence } from '../pattern/nameInSentence';
import type { Piece } from '../pattern/piece';
import type { FinishStep } from '../pattern/recipe';
import { type Join, joinSides } from './finishing/corner';
import { coveringPolygons, mirroredStrip, type SideInLoop } from './finishing/coverage';
import { mirroredHemEnd } from './finishing/hemEnd';
import { hemFoldLine } from './finishing/hemFold';
import { type AllowanceSide, allowanceSides } from './finishing/side';
import { crossesItself } from './finishing/simpleLoop';
import { swallowedEdge } from './finishing/swallowed';
import { placeNumber, trimPath } from './finishing/trim';
import { unite } from './finishing/unite';
import { edgeAllowances } from './finishing/widths';
import type { CutLine } from './worked';

/** Seam 15 mm (the home seam: Wikipedia, "Seam allowance", 5/8 in or 1.5 cm), hem 20 mm (ours), hem ends mirrored. */
export function defaultFinish(): FinishStep {
  return { kind: 'finish', seam: 15, hem: 20, byEdge: {}, mirrorHemEnds: true };
}

/**
 * The cut line of a piece: its outline with an allowance added to every edge, mm.
 *
 * Every edge is moved outward by its own width and the moved edges are joined at the corners (see `joinSides`); hem
 * ends mirror the side seam at the hem fold (see `mirroredHemEnd`). The result is one simple closed path in the
 * direction of the outline. Where the moved edges cross one another it is the union of the piece and its allowances,
 * as short straight lines; otherwise lines stay lines and curves stay curves.
 *
 * Refused: widths that make no sense, an allowance that swallows an edge, or one that closes over an opening.
 */
export function finish(piece: Piece, step: FinishStep): Outcome<CutLine> {
  const widths = edgeAllowances(piece, step);
  if (!widths.ok) return widths;
  const sides = allowanceSides(piece, widths.value);
  const loop = joinLoop(sides, step.mirrorHemEnds);
  const hemFold = hemFoldLine(sides);

  const plain = plainLoop(loop);
  if (plain && !crossesItself(flattenPath(plain, cutLineCheckChord).slice(0, -1))) {
    return succeed({ path: plain, hemFold });
  }

  const sound = loop.every((p) => !(p.mirroredBefore || p.mirroredAfter) || !crossesItself(openRing(mirroredStrip(p))));
  const united = unite(coveringPolygons(sound ? loop : joinLoop(sides, false)), foldRay(sides));
  if (!united.ok) return united;
  const lost = swallowedEdge(sides, united.value);
  if (lost) {
    return fail(
      'allowance-swallows-edge',
      `The allowances swallow the edge ${nameInSentence(lost.edge.name)}: nothing of its cut line is left. Make the allowances there narrower.`,
    );
  }
  return succeed({ path: closedLines(united.value), hemFold });
}

function joinLoop(sides: readonly AllowanceSide[], mirrorHemEnds: boolean): SideInLoop[] {
  const joins = sides.map((before, i) => {
    const after = sides[(i + 1) % sides.length]!;
    const mirrored = mirrorHemEnds ? hemEndBetween(before, after) : null;
    return { join: mirrored ?? joinSides(before, after), mirrored: mirrored !== null };
  });
  return sides.map((side, i) => {
    const before = joins[(i + sides.length - 1) % sides.length]!;
    const after = joins[i]!;
    return {
      side,
      before: before.join,
      after: after.join,
      mirroredBefore: before.mirrored && isHem(side),
      mirroredAfter: after.mirrored && isHem(side),
    };
  });
}

/** A hem meets another edge here: the join that mirrors it, unless that edge is the fold or also a hem. */
function hemEndBetween(before: AllowanceSide, after: AllowanceSide): Join | null {
  if (isHem(before) === isHem(after) || before.onFold || after.onFold) return null;
  const hemFirst = isHem(before);
  const [hem, side] = hemFirst ? [before, after] : [after, before];
  return hem.width > 0 ? mirroredHemEnd(hem, side, hemFirst) : null;
}

function isHem(side: AllowanceSide): boolean {
  return side.edge.role === 'hem';
}

/** The trimmed sides and their links in a row; null when some corner could not be joined. */
function plainLoop(loop: readonly SideInLoop[]): Path | null {
  const path: Segment[] = [];
  for (const { side, before, after } of loop) {
    if (!after.clean || side.moved.foldsOver) return null;
    if (before.head && after.tail && placeNumber(before.head) >= placeNumber(after.tail)) return null;
    for (const segment of trimPath(side.moved.path, before.head, after.tail, before.to, after.from))
      append(path, segment);
    for (const segment of after.link) append(path, segment);
  }
  const last = path[path.length - 1]!;
  path[path.length - 1] = { ...last, end: path[0]!.start };
  const closing = path.length > 2 ? oneLine(path[path.length - 1]!, path[0]!) : null;
  return closing ? [...path.slice(1, -1), closing] : path;
}

/** Adds a segment; a line that runs straight on is made one with the line before it. */
function append(path: Segment[], segment: Segment): void {
  const last = path[path.length - 1];
  if (segment.kind === 'line' && distance(segment.start, segment.end) < samePoint) return;
  const longer = last ? oneLine(last, segment) : null;
  if (longer) path[path.length - 1] = longer;
  else path.push(last ? { ...segment, start: last.end } : segment);
}

/** One line for two that follow each other in the same direction, else null. */
function oneLine(a: Segment, b: Segment): Segment | null {
  if (a.kind !== 'line' || b.kind !== 'line') return null;
  const u = subtract(a.end, a.start);
  const v = subtract(b.end, b.start);
  return dot(u, v) > 0 && Math.abs(cross(u, v)) < samePoint * norm(u) ? line(a.start, b.end) : null;
}

function foldRay(sides: readonly AllowanceSide[]): { from: Point; along: Point } | null {
  const fold = sides.find((s) => s.onFold);
  return fold ? { from: fold.seam[0]!.start, along: fold.startDirection } : null;
}

function openRing(points: readonly Point[]): Point[] {
  return points.filter((p, i) => distance(p, points[(i + 1) % points.length]!) > allowanceChord / 10);
}

function closedLines(polygon: readonly Point[]): Path {
  return polygon.map((p, i) => line(p, polygon[(i + 1) % polygon.length]!));
}
