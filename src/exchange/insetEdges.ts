import { enclosedArea } from '../geometry/area';
import { curvatureAt, curvatureBound } from '../geometry/curvature';
import { intersectPaths, selfIntersections } from '../geometry/intersect';
import { offsetPath } from '../geometry/offset';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathStart } from '../geometry/path';
import { distance, mix, type Point } from '../geometry/point';
import { line, type Path, type Segment, subSegment } from '../geometry/segment';
import { offsetAccuracy, samePoint, widestAllowance } from '../geometry/tolerance';
import { type CarriedOn, carriedOn } from './carriedOn';
import { edgeParts, type OutlinePlace } from './edgeParts';

/** A stitching line found inside a cut line. */
export interface InsetOutline {
  /** Closed, mm, the same way round as the cut line. */
  readonly path: Path;
  /** The rebuilt corners, one for each given and in the same order, each at the start of a segment. */
  readonly corners: readonly OutlinePlace[];
  /** What cannot be known from a cut line, for the maker to check. */
  readonly notes: readonly string[];
}

/** mm. Ends of moved edges this near meet half-way: the offset fit itself is no better than a third of it. */
const meetHalfWay = 3 * offsetAccuracy;

/** Ratio. How far a moved edge is carried on to meet its neighbour, in multiples of the wider allowance. */
const longestReach = 12;

/** Ratio. A corner that moved by more than this many allowances is worth a look: real cut lines are seldom so pointed. */
const farCorner = 2.5;

/**
 * The stitching line inside a cut line: every edge is moved inward by its own allowance (mm, 0 allowed), exactly for lines
 * and within `offsetAccuracy` for curves, and the corners are rebuilt where neighbouring moved edges meet: cut back to
 * their crossing, or carried on up to it, straight or as they bend (see `carriedOn`). Edge i runs from corner i to the next.
 *
 * Refused with the number of the edge: an allowance wider than the edge's own bend leaves room for, one that swallows an
 * edge, edges that never meet, and a result that crosses itself.
 */
export function insetEdges(
  outline: Path,
  corners: readonly OutlinePlace[],
  allowances: readonly number[],
): Outcome<InsetOutline> {
  const unusable = allowances.findIndex((width) => !(width >= 0 && width <= widestAllowance));
  if (allowances.length !== corners.length || unusable >= 0) {
    const which = unusable >= 0 ? `edge ${unusable + 1}` : 'every edge';
    return fail('allowance-unusable', `Give ${which} an allowance between 0 and ${widestAllowance} mm.`);
  }
  const parts = edgeParts(outline, corners);
  if (!parts.ok) return parts;
  const moved: CarriedOn[] = [];
  for (const [i, part] of parts.value.entries()) {
    const inset = moveInward(part, allowances[i]!, i);
    if (!inset.ok) return inset;
    const widest = Math.max(allowances.at(i - 1)!, allowances[i]!, allowances[(i + 1) % allowances.length]!);
    moved.push(carriedOn(inset.value, longestReach * widest, widest));
  }
  const joints: Joint[] = [];
  for (const [i, after] of moved.entries()) {
    const before = moved.at(i - 1)!;
    const joint = jointBetween(before, after, pathStart(parts.value[i]!));
    if (!joint) return apart(i, corners.length);
    joints.push(joint);
  }
  const path: Segment[] = [];
  const starts: OutlinePlace[] = [];
  for (const [i, edge] of moved.entries()) {
    const trimmed = between(edge, joints[i]!, joints[(i + 1) % joints.length]!);
    if (!trimmed) return swallowed(i, allowances[i]!);
    starts.push({ segment: path.length, t: 0 });
    path.push(...trimmed);
  }
  if (!(enclosedArea(path) > 0) || selfIntersections(path).length > 0) {
    return fail(
      'inset-crosses-itself',
      'With these allowances the stitching line would cross itself: somewhere the piece is narrower than the allowances on both its sides. Check their widths.',
    );
  }
  return succeed({ path, corners: starts, notes: notesFor(joints, allowances) });
}

function moveInward(part: Path, width: number, index: number): Outcome<Path> {
  if (width === 0) return succeed(part);
  const radius = tightestBend(part, width);
  if (radius !== null) {
    return fail(
      'inset-wider-than-bend',
      `Edge ${index + 1} bends with a radius of ${radius.toFixed(1)} mm, tighter than its allowance of ${width} mm, so no stitching line runs at that distance from it. Check the width, or mark a corner there.`,
    );
  }
  const moved = offsetPath(part, -width);
  return moved.length > 0 ? succeed(moved) : swallowed(index, width);
}

/** Places looked at on each curve for the tightest bend. */
const bendSamples = 64;

/** The smallest radius, mm, of a bend towards the inside that has no room for `width`; null when all have. */
function tightestBend(part: Path, width: number): number | null {
  let sharpest = 0;
  for (const segment of part) {
    if (segment.kind === 'line' || width * curvatureBound(segment) < 1) continue;
    for (let i = 0; i <= bendSamples; i++) {
      // Negative where an outline that runs our way round bulges outward, with its centre inside.
      const bend = -curvatureAt(segment, i / bendSamples);
      if (Number.isFinite(bend)) sharpest = Math.max(sharpest, bend);
    }
  }
  return sharpest * width >= 1 ? 1 / sharpest : null;
}

/** Where two moved edges meet: how far along the one, how far along the other, and the common point. */
interface Joint {
  readonly point: Point;
  /** The corner of the cut line it stands for. */
  readonly corner: Point;
  /** On the edge before and on the edge after, both as carried on. */
  readonly leave: OutlinePlace;
  readonly arrive: OutlinePlace;
}

/** The crossing nearest to the cut line's corner of two edges, both carried on. */
function jointBetween(before: CarriedOn, after: CarriedOn, corner: Point): Joint | null {
  const end = before.path[before.before + before.edge - 1]!.end;
  const start = after.path[after.before]!.start;
  const leave = { segment: before.before + before.edge - 1, t: 1 };
  const arrive = { segment: after.before, t: 0 };
  if (distance(end, start) <= meetHalfWay) return { point: mix(end, start, 0.5), corner, leave, arrive };
  let best: Joint | null = null;
  for (const { point, segmentA, ta, segmentB, tb } of intersectPaths(before.path, after.path)) {
    if (best && distance(best.point, corner) <= distance(point, corner)) continue;
    best = {
      point,
      corner,
      leave: segmentA > leave.segment && distance(point, end) <= meetHalfWay ? leave : { segment: segmentA, t: ta },
      arrive:
        segmentB < arrive.segment && distance(point, start) <= meetHalfWay ? arrive : { segment: segmentB, t: tb },
    };
  }
  return best;
}

/** The edge from where it arrives to where it leaves; null when nothing of it is left. */
function between(edge: CarriedOn, { arrive, point: from }: Joint, { leave, point: to }: Joint): Path | null {
  const isAfter = arrive.segment > leave.segment || (arrive.segment === leave.segment && arrive.t >= leave.t);
  if (isAfter || distance(from, to) <= samePoint) return null;
  const kept: Segment[] = [];
  for (let i = arrive.segment; i <= leave.segment; i++) {
    const t0 = i === arrive.segment ? arrive.t : 0;
    const t1 = i === leave.segment ? leave.t : 1;
    if (!(t1 > t0)) continue;
    const next = subSegment(edge.path[i]!, t0, t1);
    const last = kept.at(-1);
    const isCarriedOn = i === edge.before || i === edge.before + edge.edge;
    // A straight edge carried on straight is one line.
    if (isCarriedOn && last?.kind === 'line' && next.kind === 'line')
      kept[kept.length - 1] = line(last.start, next.end);
    else kept.push(next);
  }
  // Cutting a curve moves its end by a rounding error; an outline has to meet exactly.
  return kept.map((segment, i) => ({
    ...segment,
    start: i === 0 ? from : kept[i - 1]!.end,
    end: i === kept.length - 1 ? to : segment.end,
  }));
}

function swallowed(index: number, width: number): Outcome<never> {
  return fail(
    'inset-swallows-edge',
    `The allowances swallow edge ${index + 1}: moved inward by ${width} mm, between its neighbours, nothing of it is left. Check the widths there.`,
  );
}

function apart(index: number, count: number): Outcome<never> {
  const before = ((index + count - 1) % count) + 1;
  return fail(
    'inset-edges-apart',
    `Edges ${before} and ${index + 1} no longer meet once their allowances are taken off. Give edges that run on into each other the same allowance, or move the corner between them.`,
  );
}

function notesFor(joints: readonly Joint[], allowances: readonly number[]): string[] {
  if (allowances.every((width) => width === 0)) return [];
  const notes = [
    'Each corner was rebuilt where the moved edges meet. That is right for plain corners; where the cut line was squared off, stepped, or shaped to mirror a folded hem, check the corner.',
  ];
  const far = joints.flatMap(({ point, corner }, i) => {
    const wider = Math.max(allowances.at(i - 1)!, allowances[i]!);
    return distance(point, corner) > farCorner * wider ? [i + 1] : [];
  });
  if (far.length > 0) {
    const which = far.length === 1 ? `Corner ${far[0]} lies` : `Corners ${far.join(', ')} lie`;
    notes.push(
      `${which} far inside the cut line because the edges meet at a sharp angle. Check ${far.length === 1 ? 'it' : 'them'}.`,
    );
  }
  return notes;
}
