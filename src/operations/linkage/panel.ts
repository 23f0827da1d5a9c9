import { distance, type Point } from '../../geometry/point';
import { cubic, line, type Path, reverseSegment, type Segment, splitSegment } from '../../geometry/segment';
import { samePoint } from '../../geometry/tolerance';
import type { Piece } from '../../pattern/piece';

/** Index of an edge of the piece, and the stretch of one of its segments. */
export interface EdgeStretch {
  readonly kind: 'edge';
  readonly edge: number;
  readonly segment: number;
  readonly from: number;
  readonly to: number;
}

/** Index of a cut, the side it is seen from, and the stretch of one of its segments (from > to on the right side). */
export interface CutStretch {
  readonly kind: 'cut';
  readonly cut: number;
  readonly side: 'left' | 'right';
  readonly segment: number;
  readonly from: number;
  readonly to: number;
}

export type Stretch = EdgeStretch | CutStretch;

/**
 * A part of the piece: its border, counter-clockwise as seen on screen, with where each segment came from.
 * Both arrays have the same length.
 */
export interface Panel {
  readonly segments: Path;
  readonly stretches: readonly Stretch[];
}

/** A place on the border of a panel: piece of border and parameter. */
export interface BorderPlace {
  readonly index: number;
  readonly t: number;
}

/** The whole piece as one panel. */
export function wholePanel(piece: Piece): Panel {
  const segments: Segment[] = [];
  const stretches: Stretch[] = [];
  piece.edges.forEach((edge, edgeIndex) => {
    edge.path.forEach((segment, segmentIndex) => {
      segments.push(segment);
      stretches.push({ kind: 'edge', edge: edgeIndex, segment: segmentIndex, from: 0, to: 1 });
    });
  });
  return { segments, stretches };
}

/** A place moved onto the end of its segment when it is within 1e-7 mm of it, so that no slivers arise. */
export function snapPlace(panel: Panel, place: BorderPlace, at: Point): BorderPlace {
  const segment = panel.segments[place.index]!;
  if (place.t === 0 || (place.t < 0.5 && distance(at, segment.start) <= samePoint)) return { index: place.index, t: 0 };
  if (place.t === 1 || (place.t > 0.5 && distance(at, segment.end) <= samePoint)) {
    return { index: (place.index + 1) % panel.segments.length, t: 0 };
  }
  return place;
}

/** The parameter on the source segment of a parameter on a stretch of it. Exact at both ends. */
function sourceParameter(stretch: Stretch, t: number): number {
  return t === 1 ? stretch.to : stretch.from + (stretch.to - stretch.from) * t;
}

/** The same panel with border joints at two places, and the index of the segment that starts at each. */
function withJoints(panel: Panel, a: BorderPlace, b: BorderPlace): { panel: Panel; a: number; b: number } {
  const swapped = b.index < a.index || (b.index === a.index && b.t < a.t);
  const [first, last] = swapped ? [b, a] : [a, b];
  const segments = panel.segments.slice();
  const stretches = panel.stretches.slice();
  // The later place first, so that the index of the earlier one still holds.
  splitAt(segments, stretches, last.index, last.t);
  const sameSegment = first.index === last.index && last.t > 0;
  splitAt(segments, stretches, first.index, sameSegment ? first.t / last.t : first.t);
  const firstJoint = first.t > 0 ? first.index + 1 : first.index;
  const lastJoint = last.index + (last.t > 0 ? 1 : 0) + (first.t > 0 ? 1 : 0);
  return { panel: { segments, stretches }, a: swapped ? lastJoint : firstJoint, b: swapped ? firstJoint : lastJoint };
}

function splitAt(segments: Segment[], stretches: Stretch[], index: number, t: number): void {
  if (t === 0) return;
  const stretch = stretches[index]!;
  const middle = sourceParameter(stretch, t);
  const [head, tail] = splitSegment(segments[index]!, t);
  segments.splice(index, 1, head, tail);
  stretches.splice(index, 1, partOf(stretch, stretch.from, middle), partOf(stretch, middle, stretch.to));
}

// Written out rather than spread: this runs for every cut on the live path, where spreading costs several times more.
function partOf(stretch: Stretch, from: number, to: number): Stretch {
  const { segment } = stretch;
  return stretch.kind === 'edge'
    ? { kind: 'edge', edge: stretch.edge, segment, from, to }
    : { kind: 'cut', cut: stretch.cut, side: stretch.side, segment, from, to };
}

export interface SplitPanel {
  readonly left: Panel;
  readonly right: Panel;
  /** The cut as made: its ends are exact border points of both parts. */
  readonly path: Path;
}

/**
 * Cuts a panel from one border place to another. `course` is the path from start to end; its first and last point are
 * replaced by the exact border points. Curves are split by de Casteljau and both parts share the split points.
 */
export function splitPanel(panel: Panel, start: BorderPlace, end: BorderPlace, course: Path, cut: number): SplitPanel {
  const { panel: jointed, a, b } = withJoints(panel, start, end);
  const path = withEnds(course, jointed.segments[a]!.start, jointed.segments[b]!.start);
  const forward: Stretch[] = path.map((_, segment) => ({ kind: 'cut', cut, side: 'left', segment, from: 0, to: 1 }));
  const backward: Stretch[] = path
    .map((_, segment): Stretch => ({ kind: 'cut', cut, side: 'right', segment, from: 1, to: 0 }))
    .reverse();
  return {
    left: {
      segments: cyclicSlice(jointed.segments, b, a).concat(path),
      stretches: cyclicSlice(jointed.stretches, b, a).concat(forward),
    },
    right: {
      segments: cyclicSlice(jointed.segments, a, b).concat(path.map(reverseSegment).reverse()),
      stretches: cyclicSlice(jointed.stretches, a, b).concat(backward),
    },
    path,
  };
}

function withEnds(course: Path, start: Point, end: Point): Path {
  return course.map((segment, index) => {
    const from = index === 0 ? start : segment.start;
    const to = index === course.length - 1 ? end : segment.end;
    return segment.kind === 'line' ? line(from, to) : cubic(from, segment.control1, segment.control2, to);
  });
}

/** Items from index a up to, not including, index b, wrapping round; a = b would be the whole round. */
function cyclicSlice<T>(items: readonly T[], a: number, b: number): T[] {
  return a < b ? items.slice(a, b) : items.slice(a).concat(items.slice(0, b));
}
