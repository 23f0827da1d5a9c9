import type { DrawingReading, DrawnShape } from '../../../exchange/drawing/drawingReading';
import type { TestSquare } from '../../../exchange/pdf/testSquare';
import { pathBounds } from '../../../geometry/bounds';
import type { Outcome } from '../../../geometry/outcome';
import type { BringInDraft } from '../../../store/bringIn';
import type { PagesDraft } from '../../../store/pagesDraft';
import { draftFromDrawing } from '../draftFromDrawing';
import { readyDraft } from '../readyDraft';
import { type Workshop, watched } from '../watched';

const statesSize = 'A PDF states its true size.';
const noSquare = `${statesSize} No test square was found in it to prove that, so check one length you know.`;

/**
 * The pages as they lie, made into one drawing. A test square that agrees settles the size, one that does not makes it a
 * question, and without one the size the file states is taken, to be checked by whoever wants to.
 */
export async function draftFromPages(laid: PagesDraft, workshop: Workshop): Promise<Outcome<BringInDraft>> {
  const places = laid.places.filter(({ page }) => !laid.leftOut.includes(page));
  const ask = { task: 'lay', book: laid.book, pages: null, places } as const;
  const remembered = await watched(ask, workshop);
  const forgotten = !remembered.ok && remembered.code === 'pages-forgotten';
  const drawing = forgotten ? await watched({ ...ask, pages: laid.pages }, workshop) : remembered;
  if (!drawing.ok) return drawing;
  // A square that does not say how large it is proves nothing.
  const square = laid.square?.stated == null ? null : laid.square;
  const draft = draftFromDrawing(withSquare(drawing.value, square), laid.source);
  if (!draft.ok) return draft;
  const told = { ...draft.value, pageNotes: drawing.value.warnings };
  return readyDraft(square === null ? uncheckedScale(told, laid.square) : told, workshop);
}

function withSquare(reading: DrawingReading, square: TestSquare | null): DrawingReading {
  if (square === null || reading.scale.kind !== 'certain') return reading;
  const { sentence, agrees, suggestion, stated } = square;
  if (agrees) {
    const shapes = reading.shapes.filter((shape) => !isSquare(shape, square));
    const kept = shapes.length === 0 ? reading.shapes : shapes;
    return { ...reading, shapes: kept, scale: { ...reading.scale, source: sentence } };
  }
  const suggestions = [
    { label: `Make the test square ${Number(stated!.toFixed(2))} mm`, mmPerUnit: suggestion },
    { label: 'Keep the size the file states', mmPerUnit: 1 },
  ];
  return { ...reading, scale: { kind: 'ask', sentence, suggestions } };
}

/** mm. How near a drawn square's sides come to those that were measured on it. */
const sameSide = 0.05;

/** Whether a shape is the test square itself: of its size, on its page; it is no piece. */
function isSquare({ id, path, closed }: DrawnShape, { page, measuredX, measuredY }: TestSquare): boolean {
  if (!closed || !id.startsWith(`page-${page}-`)) return false;
  const { minX, minY, maxX, maxY } = pathBounds(path);
  return Math.abs(maxX - minX - measuredX) <= sameSide && Math.abs(maxY - minY - measuredY) <= sameSide;
}

function uncheckedScale(draft: BringInDraft, silent: TestSquare | null): BringInDraft {
  return draft.scale.kind === 'certain'
    ? {
        ...draft,
        scale: {
          kind: 'certain',
          sentence: silent === null ? noSquare : `${statesSize} ${silent.sentence}`,
          unchecked: true,
        },
      }
    : draft;
}
