import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { DrawingReading } from '../drawing/drawingReading';
import { joinAcross } from './joinAcross';
import { withoutOverlaps } from './overlaps';
import type { PagePlace } from './pageArrangement';
import type { PdfPage } from './pdfReading';
import { withoutSharedSegments } from './sharedSegments';
import { ontoSheet, type SheetShape } from './sheetShapes';

/**
 * The pages that have a place, as one drawing in mm. Frames and marks that all pages share, and lines drawn again on
 * another page, are left out; lines cut at the border of two pages are joined. All of it is counted in the warnings.
 *
 * The scale is certain as far as the file goes; whether the test square agrees is for the caller (`findTestSquare`).
 */
export function layPages(pages: readonly PdfPage[], places: readonly PagePlace[]): Outcome<DrawingReading> {
  const sheet = ontoSheet(pages, places);
  if (sheet.shapes.length === 0) {
    return fail('pages-no-lines', 'There are no lines on the pages you chose. Choose other pages.');
  }
  const single = withoutSharedSegments(sheet.shapes);
  const cleared = withoutOverlaps(single.shapes, pages, places);
  const joined = joinAcross(cleared.shapes);
  return succeed({
    shapes: joined.shapes.map(withoutPage),
    scale: {
      kind: 'certain',
      mmPerUnit: 1,
      source: 'A PDF states the size of its pages; everything on them is read at that size.',
    },
    warnings: [
      ...note(sheet.furniture, 'mark or frame that all pages share', 'marks and frames that all pages share'),
      ...note(sheet.copies, 'line drawn again on another page', 'lines drawn again on another page'),
      ...note(
        single.shared,
        'stretch of a line drawn again on another page',
        'stretches of lines drawn again on another page',
      ),
      ...note(sheet.unseen, 'line that no page shows', 'lines that no page shows'),
      ...(cleared.shortened > 0
        ? [
            `${things(cleared.shortened, 'line', 'lines')} drawn on two pages where they overlap ${cleared.shortened === 1 ? 'was' : 'were'} made one.`,
          ]
        : []),
      ...(joined.joins > 0
        ? [
            `${things(joined.joins, 'line', 'lines')} cut at the border of two pages ${joined.joins === 1 ? 'was' : 'were'} joined, over at most ${joined.widest.toFixed(2)} mm.`,
          ]
        : []),
    ],
  });
}

function withoutPage({ page: _, ...shape }: SheetShape): Omit<SheetShape, 'page'> {
  return shape;
}

function note(count: number, one: string, many: string): string[] {
  return count > 0 ? [`${things(count, one, many)} ${count === 1 ? 'was' : 'were'} left out.`] : [];
}

function things(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}
