import { endTangent, pathEnd, startTangent } from '../../geometry/path';
import { angleBetween, type Point } from '../../geometry/point';
import type { Path } from '../../geometry/segment';
import { smoothJoint } from '../../geometry/tolerance';
import type { Edge, Piece } from '../../pattern/piece';
import { type OffsetRun, offsetRun } from './offsetRun';

/** A run of the outline without a corner, with one allowance along all of it. */
export interface AllowanceSide {
  readonly edge: Edge;
  readonly onFold: boolean;
  /** mm */
  readonly width: number;
  /** The run on the stitching line. */
  readonly seam: Path;
  readonly moved: OffsetRun;
  /** Unit directions of travel at the two ends of the run. */
  readonly startDirection: Point;
  readonly endDirection: Point;
}

/** Cuts every edge at its own corners and moves each smooth run outward. Widths in the order of the edges, mm. */
export function allowanceSides(piece: Piece, widths: readonly number[]): AllowanceSide[] {
  return piece.edges.flatMap((edge, i) =>
    smoothRuns(edge.path).map((seam) => {
      return {
        edge,
        onFold: edge.id === piece.fold,
        width: widths[i]!,
        seam,
        moved: offsetRun(seam, widths[i]!),
        startDirection: startTangent(seam),
        endDirection: endTangent(seam),
      };
    }),
  );
}

/** The corner between two sides that follow one another: where it is and how the outline turns there. */
export interface SideCorner {
  readonly at: Point;
  /** radians; positive at an outward (convex) corner, negative at an inward one */
  readonly turn: number;
}

export function cornerBetween(before: AllowanceSide, after: AllowanceSide): SideCorner {
  // The outline runs counter-clockwise as seen on screen, so an outward corner turns from y towards x.
  return { at: pathEnd(before.seam), turn: -angleBetween(before.endDirection, after.startDirection) };
}

function smoothRuns(path: Path): Path[] {
  const runs: Path[] = [];
  let from = 0;
  for (let i = 1; i <= path.length; i++) {
    if (i < path.length && isSmooth(path.slice(i - 1, i), path.slice(i, i + 1))) continue;
    runs.push(path.slice(from, i));
    from = i;
  }
  return runs;
}

function isSmooth(before: Path, after: Path): boolean {
  return Math.abs(angleBetween(endTangent(before), startTangent(after))) < smoothJoint;
}
