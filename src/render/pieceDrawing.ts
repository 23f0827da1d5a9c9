import { isOverPicture, type ScenePiece, type TableScene } from '../gestures/scene';
import type { Piece } from '../pattern/piece';
import { blankSketch, type Drawing, fill, stroke } from './drawing';
import { drawFan } from './fanDrawing';
import { drawFinish } from './finishDrawing';
import { drawMarks, drawOutline, fullTone, ghostDash, softTone } from './marksOnPiece';
import { placeLabel } from './pieceLabel';
import { drawTrue } from './trueDrawing';

type View = 'plain' | 'over-picture' | 'fan' | 'true' | 'finish';

const known = new WeakMap<ScenePiece, { readonly view: View; readonly unit: string; readonly drawing: Drawing }>();

/** What is drawn for a piece in the present place. The same object comes back as long as nothing about it changed. */
export function pieceDrawing(piece: ScenePiece, scene: TableScene): Drawing {
  const view = viewOf(piece, scene);
  const before = known.get(piece);
  if (before !== undefined && before.view === view && before.unit === scene.unit) return before.drawing;
  const drawing = draw(piece, view, scene);
  known.set(piece, { view, unit: scene.unit, drawing });
  return drawing;
}

function viewOf(piece: ScenePiece, scene: TableScene): View {
  switch (scene.place) {
    case 'fan':
      return piece.fanned === null ? 'plain' : 'fan';
    case 'true':
      return piece.worked.trued === null ? (piece.fanned === null ? 'plain' : 'fan') : 'true';
    case 'finish':
    case 'print':
      return piece.worked.cutLine === null ? 'plain' : 'finish';
    default:
      return isOverPicture(scene, piece) ? 'over-picture' : 'plain';
  }
}

function draw(piece: ScenePiece, view: View, scene: TableScene): Drawing {
  const sketch = blankSketch();
  const tone = piece.active ? fullTone : softTone;
  switch (view) {
    case 'fan':
      drawFan(sketch, piece, scene.unit, tone);
      break;
    case 'true':
      drawTrue(sketch, piece, tone);
      break;
    case 'finish':
      drawFinish(sketch, piece, tone);
      break;
    default:
      // The picture it was taken from must stay to be seen.
      sketch.shapes.push(fill([outlineOf(piece.worked.piece)], 'sheet', view === 'over-picture' ? 0.2 : 1));
      drawOutline(sketch, piece.worked.piece, tone);
      drawMarks(sketch, piece.worked.piece, tone);
  }
  if (piece.ghost !== null) sketch.shapes.splice(firstStroke(sketch.shapes), 0, ghost(piece.ghost));
  // Slash lines right through leave no quiet place; the piece being fanned is named beside the table.
  const crowded = view === 'fan' && piece.active && piece.fan?.fullness === null;
  if (!crowded) sketch.labels.push(...placeLabel(piece, tone.ink));
  return sketch;
}

/** The ghost lies over the areas and under the lines. */
function firstStroke(shapes: Drawing['shapes']): number {
  const index = shapes.findIndex((shape) => shape.kind === 'stroke');
  return index < 0 ? shapes.length : index;
}

function ghost(piece: Piece) {
  return stroke([outlineOf(piece)], 'ink-soft', 1, { dash: ghostDash, alpha: 0.8 });
}

function outlineOf(piece: Piece) {
  return piece.edges.flatMap((edge) => edge.path);
}
