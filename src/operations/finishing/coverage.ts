import { flattenPath } from '../../geometry/flatten';
import { angleBetween, norm, type Point, subtract } from '../../geometry/point';
import {
  type Path,
  reversePath,
  type Segment,
  segmentPointAt,
  segmentSecondDerivativeAt,
} from '../../geometry/segment';
import { unitTangentAt } from '../../geometry/tangent';
import { allowanceChord } from '../../geometry/tolerance';
import type { Join } from './corner';
import type { AllowanceSide } from './side';
import { trimPath } from './trim';

/** Turn between two samples of a curve, radians: at 250 mm radius the chord is then 0.012 mm off. */
const turnPerSample = 0.02;

/** What joins a side to the ones before and after it. */
export interface SideInLoop {
  readonly side: AllowanceSide;
  readonly before: Join;
  readonly after: Join;
  /** True at the ends where a hem mirrors its side seam. */
  readonly mirroredBefore: boolean;
  readonly mirroredAfter: boolean;
}

/**
 * Polygons that together cover the piece and all its allowances, also where the plain outline of the allowances
 * crosses itself: the piece, each side's strip cut small, and a wedge at every outward corner.
 */
export function coveringPolygons(loop: readonly SideInLoop[]): Point[][] {
  const polygons: Point[][] = [
    flattenPath(
      loop.flatMap((s) => s.side.seam),
      allowanceChord,
    ).slice(0, -1),
  ];
  for (const place of loop) {
    const { side, after } = place;
    if (side.width > 0) {
      polygons.push(...(place.mirroredBefore || place.mirroredAfter ? [mirroredStrip(place)] : strip(side)));
    }
    if (after.wedge.length > 0) polygons.push([...after.wedge]);
  }
  return polygons;
}

/** Outline of a hem allowance with mirrored ends. */
export function mirroredStrip(place: SideInLoop): Point[] {
  const { side, before, after, mirroredBefore, mirroredAfter } = place;
  const cut = trimPath(
    side.moved.path,
    mirroredBefore ? before.head : null,
    mirroredAfter ? after.tail : null,
    mirroredBefore ? before.to : undefined,
    mirroredAfter ? after.from : undefined,
  );
  const ring: Path[] = [side.seam];
  if (mirroredAfter) ring.push(reversePath(after.link));
  ring.push(reversePath(cut));
  if (mirroredBefore) ring.push(reversePath(before.link));
  return ring.flatMap((path) => (path.length > 0 ? flattenPath(path, allowanceChord) : []));
}

/** The strip between a run and its offset as triangles, so that a strip which folds over itself still covers. */
function strip(side: AllowanceSide): Point[][] {
  const rungs = rungsOf(side);
  const triangles: Point[][] = [];
  for (let i = 1; i < rungs.length; i++) {
    const a = rungs[i - 1]!;
    const b = rungs[i]!;
    triangles.push([a.inner, b.inner, b.outer], [a.inner, b.outer, a.outer]);
  }
  return triangles;
}

interface Rung {
  readonly inner: Point;
  readonly outer: Point;
}

function rungsOf(side: AllowanceSide): Rung[] {
  return side.seam.flatMap((segment) => {
    const count = samplesOf(segment);
    return Array.from({ length: count + 1 }, (_, i) => {
      const inner = segmentPointAt(segment, i / count);
      return { inner, outer: outward(inner, unitTangentAt(segment, i / count), side.width) };
    });
  });
}

/** Enough for the curve's own chords and for those of its offset. */
function samplesOf(segment: Segment): number {
  if (segment.kind === 'line') return 1;
  const bend = Math.max(norm(segmentSecondDerivativeAt(segment, 0)), norm(segmentSecondDerivativeAt(segment, 1)));
  return Math.ceil(Math.max(4, Math.sqrt(bend / (8 * allowanceChord)), controlTurning(segment) / turnPerSample));
}

function controlTurning(segment: Segment): number {
  if (segment.kind === 'line') return 0;
  const legs = [
    subtract(segment.control1, segment.start),
    subtract(segment.control2, segment.control1),
    subtract(segment.end, segment.control2),
  ];
  return Math.abs(angleBetween(legs[0]!, legs[1]!)) + Math.abs(angleBetween(legs[1]!, legs[2]!));
}

function outward(p: Point, direction: Point, width: number): Point {
  return { x: p.x - direction.y * width, y: p.y + direction.x * width };
}
