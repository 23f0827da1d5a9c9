import { heading } from '../geometry/point';
import type { ScenePiece } from '../gestures/scene';
import { hemEnds, segmentsOf, trueView } from '../gestures/trueView';
import { fill, type Sketch, stroke } from './drawing';
import { drawMarks, drawOutline, type Tone } from './marksOnPiece';

/** A hem corner counts as square within this angle of 90 degrees, radians. */
const squareWithin = 0.0018;

/** The trued piece over its strips: their hems faint, the new hem, the blended side seam and edges that lost darts in the accent. */
export function drawTrue(sketch: Sketch, piece: ScenePiece, tone: Tone): void {
  const { worked, fanned, fan } = piece;
  const view = trueView(worked, fan);
  const smoothed = (worked.trued?.smoothed ?? []).map(({ edge }) => edge);
  sketch.shapes.push(fill([worked.piece.edges.flatMap((edge) => edge.path)], 'sheet'));
  if (fanned !== null && fan !== null) {
    const redrawn = [fan.hem, fan.side, fan.centre, ...smoothed];
    const under = fanned.edges.filter(({ id }) => redrawn.includes(id));
    for (const edge of under) {
      sketch.shapes.push(stroke([segmentsOf(edge)], 'ink-soft', 0.9, { dash: [2, 3], alpha: 0.8 }));
    }
  }
  drawOutline(sketch, worked.piece, tone);
  drawMarks(sketch, worked.piece, tone);
  if (view === null) return;
  const width = piece.active ? 2 : 1.4;
  const lines = worked.piece.edges.filter(({ id }) => smoothed.includes(id)).map(({ path }) => path);
  sketch.shapes.push(stroke([view.hem, view.blend, ...lines], 'accent', width));
  for (const end of hemEnds) {
    const { corner, into, longer, angle } = view.ends[end];
    if (Math.abs(angle - Math.PI / 2) > squareWithin) continue;
    // The square sits inside the corner: between the hem's direction and the edge's, which runs away from `longer`.
    const turnsForward = into.x * -longer.y - into.y * -longer.x > 0;
    sketch.glyphs.push({
      kind: 'square-corner',
      at: corner,
      angle: turnsForward ? heading(into) : heading({ x: -longer.x, y: -longer.y }),
      ink: 'accent',
    });
  }
}
