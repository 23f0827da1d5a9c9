import { enclosedArea } from '../../geometry/area';
import { pathLength } from '../../geometry/path';
import { angleBetween, distance, type Point, subtract } from '../../geometry/point';
import { movePoint, moveSegment, type RigidMove } from '../../geometry/rigidMove';
import { line, reverseSegment, type Segment } from '../../geometry/segment';
import type { OpenedCut } from '../worked';
import type { CutPiece, CutSidePart } from './cutPiece';
import type { Joint } from './place';

/** What each cut did. `jointOf[cut]` is its joint; cuts whose one side was taken away have none and leave a mouth. */
export function openedCuts(
  cutPiece: CutPiece,
  moves: readonly (RigidMove | null)[],
  joints: readonly Joint[],
  jointOf: readonly number[],
): OpenedCut[] {
  return cutPiece.cuts.map((made, cut): OpenedCut => {
    const path = made.path.slice(0, made.beforeHinge);
    const joint = joints[jointOf[cut]!];
    if (joint === undefined) {
      return { id: made.cut.id, length: pathLength(path), path, ...mouthLeft(cutPiece, moves, cut) };
    }
    const { parting, left, right } = joint;
    const parted = distance(movePoint(moves[left]!, made.openEnd), movePoint(moves[right]!, made.openEnd));
    const pivot = parting.kind === 'turn' ? parting.pivot : null;
    return {
      id: made.cut.id,
      pivot,
      radius: pivot === null ? null : distance(pivot, made.openEnd),
      length: pathLength(path),
      angle: parting.kind === 'turn' ? parting.angle : 0,
      chord: parting.overlaps ? -parted : parted,
      gapArea: gapArea(cutPiece, moves, cut),
      path,
    };
  });
}

/**
 * Signed area between the two placed sides of a cut, mm2: down its left side from hinge to open end, across by the
 * chord, up the right side and back. Chords also bridge the places where other cuts have parted a side.
 * For one slash hinged at its end this is r^2 sin(angle) / 2.
 */
function gapArea({ panels, cuts, left, right }: CutPiece, moves: readonly (RigidMove | null)[], cut: number): number {
  const loop: Segment[] = [];
  const { beforeHinge } = cuts[cut]!;
  const follow = ({ panel, index, high }: CutSidePart) => {
    if (high <= beforeHinge) append(loop, moveSegment(moves[panel]!, reverseSegment(panels[panel]!.segments[index]!)));
  };
  for (let i = left[cut]!.length - 1; i >= 0; i--) follow(left[cut]![i]!);
  for (const part of right[cut]!) follow(part);
  return closedArea(loop);
}

/** Adds a segment to a loop, with a chord where it does not start at the loop's end. */
function append(loop: Segment[], segment: Segment): void {
  const last = loop[loop.length - 1];
  if (last !== undefined && last.end !== segment.start) loop.push(line(last.end, segment.start));
  loop.push(segment);
}

function closedArea(loop: Segment[]): number {
  const first = loop[0];
  if (first === undefined) return 0;
  append(loop, line(first.start, first.start));
  return enclosedArea(loop);
}

/** The wedge that a cut took away, as far as its two banks have not been brought together. */
function mouthLeft(
  { panels, dropped, cuts, left, right }: CutPiece,
  moves: readonly (RigidMove | null)[],
  cut: number,
): Omit<OpenedCut, 'id' | 'length' | 'path'> {
  const { hinge, openEnd } = cuts[cut]!;
  const wedge = [...left[cut]!, ...right[cut]!].find(({ panel }) => dropped[panel])!.panel;
  const loop: Segment[] = [];
  const { segments, stretches } = panels[wedge]!;
  // The ends of the mouth, as placed: where the banks leave the outline.
  const mouth: Point[] = [];
  segments.forEach((segment, index) => {
    const stretch = stretches[index]!;
    if (stretch.kind === 'edge') return;
    const bank = (stretch.side === 'left' ? right : left)[stretch.cut]!;
    const low = stretch.segment + Math.min(stretch.from, stretch.to);
    const high = stretch.segment + Math.max(stretch.from, stretch.to);
    const parts = bank.filter((part) => part.low >= low && part.high <= high && !dropped[part.panel]);
    for (const part of stretch.side === 'left' ? parts : parts.reverse()) {
      append(loop, moveSegment(moves[part.panel]!, reverseSegment(panels[part.panel]!.segments[part.index]!)));
    }
    if (parts[0] === undefined) return;
    const move = moves[parts[0].panel]!;
    const previous = stretches[(index + stretches.length - 1) % stretches.length]!;
    const next = stretches[(index + 1) % stretches.length]!;
    if (previous.kind === 'edge') mouth.push(movePoint(move, segment.start));
    if (next.kind === 'edge') mouth.push(movePoint(move, segment.end));
  });
  const [a, b] = mouth;
  const tip = movePoint(moves[rootward(left[cut]!, right[cut]!, dropped)]!, hinge);
  const open = a !== undefined && b !== undefined;
  return {
    pivot: hinge,
    radius: distance(hinge, openEnd),
    angle: open ? Math.abs(angleBetween(subtract(a, tip), subtract(b, tip))) : 0,
    chord: open ? distance(a, b) : 0,
    gapArea: closedArea(loop),
  };
}

function rootward(left: readonly CutSidePart[], right: readonly CutSidePart[], dropped: readonly boolean[]): number {
  return [...left, ...right].find(({ panel }) => !dropped[panel])!.panel;
}
