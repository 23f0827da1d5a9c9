import { containsPoint } from '../geometry/area';
import { startTangent } from '../geometry/path';
import { add, dot, mix, type Point, quarterTurn, scale, subtract, unit } from '../geometry/point';
import { movePath } from '../geometry/rigidMove';
import { line } from '../geometry/segment';
import { besideEdge } from '../geometry/tolerance';
import { frameOf } from '../operations/linkage/pieceFrame';
import type { DartsClosed, FannedPiece, OpenedCut, PlacedPanel } from '../operations/worked';
import type { FanStep } from '../pattern/recipe';

/**
 * How far the grain of the block's cloth has turned just beyond a slash line, on the side's side of its hem end, radians.
 * In a wedge that a dart opened the cloth is new; there it is the turn of the block's cloth beyond the wedge.
 */
export function grainBeyond(fanned: FannedPiece, step: FanStep, cut: OpenedCut): number {
  const frame = frameOf(fanned.source, step);
  if (!frame.ok) return 0;
  const { across } = frame.value;
  const up = startTangent(cut.path);
  const square = quarterTurn(up);
  const sideways = scale(square, dot(square, across) > 0 ? besideEdge : -besideEdge);
  const p = add(add(cut.path[0]!.start, scale(up, 1)), sideways);
  const turned = fanned.panels.find(({ boundary }) => containsPoint(boundary, p))?.move.angle ?? 0;
  return Math.abs(turned + (fanned.closed === null ? 0 : closingTurn(fanned.closed, p)));
}

function closingTurn({ darts, panels }: DartsClosed, p: Point): number {
  for (const { wedge } of darts) {
    const { apex, centreFoot, sideFoot } = wedge;
    const triangle = [line(apex, centreFoot), line(centreFoot, sideFoot), line(sideFoot, apex)];
    if (!containsPoint(triangle, p)) continue;
    const away = scale(unit(subtract(sideFoot, centreFoot)), besideEdge);
    return turnAt(panels, add(mix(sideFoot, apex, 0.5), away));
  }
  return turnAt(panels, p);
}

/** The turn of the part that lies at a place now; 0 off the piece. */
function turnAt(panels: readonly PlacedPanel[], p: Point): number {
  return panels.find(({ boundary, move }) => containsPoint(movePath(move, boundary), p))?.move.angle ?? 0;
}
