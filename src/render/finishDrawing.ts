import { cross, subtract, unit } from '../geometry/point';
import type { Segment } from '../geometry/segment';
import { samePoint } from '../geometry/tolerance';
import type { ScenePiece } from '../gestures/scene';
import { fill, type Sketch, stroke } from './drawing';
import { joinRuns } from './joinRuns';
import { drawFold, drawMarks, type Tone } from './marksOnPiece';

/** The piece ready to cut: cut line in full, the allowance as a band, the stitching line fine inside it. */
export function drawFinish(sketch: Sketch, piece: ScenePiece, tone: Tone): void {
  const { worked } = piece;
  const outline = worked.piece.edges.flatMap((edge) => edge.path);
  if (worked.cutLine === null) return;
  sketch.shapes.push(fill([worked.cutLine.path], 'sheet'));
  sketch.shapes.push(fill([worked.cutLine.path, outline], 'accent-wash'));
  const { hemFold } = worked.cutLine;
  const fold = worked.piece.edges.find((edge) => edge.id === worked.piece.fold);
  const sewn = worked.piece.edges.filter((edge) => edge !== fold && (edge.role !== 'hem' || hemFold === null));
  sketch.shapes.push(
    stroke(
      sewn.map((edge) => edge.path),
      tone.ink,
      tone.fine,
      { dash: [5, 3], alpha: 0.75 },
    ),
  );
  if (hemFold !== null) sketch.shapes.push(stroke([hemFold], 'accent', tone.fine, { dash: [10, 4] }));
  if (fold === undefined) {
    sketch.shapes.push(stroke([worked.cutLine.path], tone.ink, tone.outline));
    drawMarks(sketch, worked.piece, tone);
    return;
  }
  // Nothing is cut along the fold, so the cut line leaves it to the dash-dot.
  const onFold = worked.cutLine.path.filter((segment) => liesAlong(segment, fold.path[0]!));
  const cut = worked.cutLine.path.filter((segment) => !onFold.includes(segment));
  sketch.shapes.push(stroke(joinRuns(cut), tone.ink, tone.outline));
  drawFold(sketch, joinRuns(onFold), tone);
  drawMarks(sketch, worked.piece, tone);
}

/** Whether both ends of a segment lie on the straight line of the fold. */
function liesAlong(segment: Segment, fold: Segment): boolean {
  const along = unit(subtract(fold.end, fold.start));
  return [segment.start, segment.end].every((p) => Math.abs(cross(along, subtract(p, fold.start))) < samePoint);
}
