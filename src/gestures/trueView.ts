import { endTangent, pathEnd, pathStart, startTangent } from '../geometry/path';
import { add, distance, type Point, scale } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { WorkedEdge, WorkedPiece } from '../operations/worked';
import type { EdgeRole } from '../pattern/piece';
import type { FanStep } from '../pattern/recipe';

export const hemEnds = ['centre', 'side'] as const;
export type HemEnd = (typeof hemEnds)[number];

/** One end of the trued hem, mm in the piece's frame. */
export interface HemEndView {
  readonly corner: Point;
  /** Unit direction into the hem. */
  readonly into: Point;
  /** Length of the curve's handle, mm. */
  readonly handleLength: number;
  readonly handle: Point;
  /** Unit direction in which the neighbouring edge runs out over the hem: longer is this way. */
  readonly longer: Point;
  /** Angle inside the piece, radians. */
  readonly angle: number;
}

/** What can be taken hold of once a piece is trued. */
export interface TrueView {
  readonly hem: Path;
  readonly ends: Readonly<Record<HemEnd, HemEndView>>;
  /** The part of the side seam that was redrawn; empty when the corner at the hinge was left. */
  readonly blend: Path;
}

const centreRoles: readonly EdgeRole[] = ['centre-front', 'centre-back'];

/** Reads the trued hem off a worked piece; null when it was not trued or has no hem between two edges. */
export function trueView(worked: WorkedPiece, fan: FanStep | null): TrueView | null {
  const { trued, edges } = worked;
  if (trued === null) return null;
  const index = edges.findIndex((edge) => (fan === null ? edge.role === 'hem' : edge.id === fan.hem));
  const hemEdge = edges[index];
  if (hemEdge === undefined || edges.length < 3) return null;
  const before = edges[(index - 1 + edges.length) % edges.length]!;
  const after = edges[(index + 1) % edges.length]!;
  const hem = segmentsOf(hemEdge);
  const isCentre = (edge: WorkedEdge) => (fan === null ? centreRoles.includes(edge.role) : edge.id === fan.centre);
  // The outline enters the hem from `before` and leaves it into `after`; the centre line is one of the two.
  const centreFirst = isCentre(before) || !isCentre(after);
  const startEnd: HemEnd = centreFirst ? 'centre' : 'side';
  const endEnd: HemEnd = centreFirst ? 'side' : 'centre';
  const atStart = endView(
    pathStart(hem),
    startTangent(hem),
    endTangent(segmentsOf(before)),
    trued.handles[startEnd],
    cornerOf(trued, startEnd),
  );
  const atEnd = endView(
    pathEnd(hem),
    scale(endTangent(hem), -1),
    scale(startTangent(segmentsOf(after)), -1),
    trued.handles[endEnd],
    cornerOf(trued, endEnd),
  );
  const sideEdge = centreFirst ? after : before;
  return {
    hem,
    ends: startEnd === 'centre' ? { centre: atStart, side: atEnd } : { centre: atEnd, side: atStart },
    blend: blendOf(sideEdge),
  };
}

export function segmentsOf(edge: WorkedEdge): Path {
  return edge.segments.map((traced) => traced.segment);
}

function cornerOf(trued: NonNullable<WorkedPiece['trued']>, end: HemEnd): number {
  return end === 'centre' ? trued.cornerCentre : trued.cornerSide;
}

function endView(corner: Point, into: Point, longer: Point, handleLength: number, angle: number): HemEndView {
  return { corner, into, longer, handleLength, angle, handle: add(corner, scale(into, handleLength)) };
}

/**
 * The redrawn stretch of the side seam. The seam's last few millimetres at the hem may be redrawn too (they make good
 * the length lost in the blend); the blend is the stretch that does not touch the hem, or the longer one.
 */
function blendOf(side: WorkedEdge): Path {
  const runs: Path[] = [];
  let run: Path = [];
  for (const { segment, origin } of side.segments) {
    if (origin.kind === 'trued') run = [...run, segment];
    else if (run.length > 0) {
      runs.push(run);
      run = [];
    }
  }
  if (run.length > 0) runs.push(run);
  const chord = (path: Path) => distance(pathStart(path), pathEnd(path));
  return runs.sort((a, b) => chord(b) - chord(a))[0] ?? [];
}
