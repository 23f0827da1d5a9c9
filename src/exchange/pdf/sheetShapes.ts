import type { Point } from '../../geometry/point';
import { borderMatch } from '../../geometry/tolerance';
import { affine, mapPath } from '../drawing/affine';
import { furnitureOf } from './furniture';
import type { PagePlace } from './pageArrangement';
import type { PdfPage, PdfShape } from './pdfReading';
import { PlaceIndex, placedShapes } from './shapeMatch';

/** A shape on the common sheet and the page it was drawn on. */
export interface SheetShape extends PdfShape {
  readonly page: number;
}

export interface OnSheet {
  readonly shapes: readonly SheetShape[];
  /** Shapes that were the page's own: frames, marks, text boxes. */
  readonly furniture: number;
  readonly copies: number;
  /** Shapes drawn where no page shows them. */
  readonly unseen: number;
}

/** The shapes of all placed pages on one sheet, without what belongs to the pages and what is drawn again on another. */
export function ontoSheet(pages: readonly PdfPage[], places: readonly PagePlace[]): OnSheet {
  const at = new Map<number, Point>(places.map((place) => [place.page, place.at]));
  const laid = pages.filter((page) => at.has(page.number));
  const furniture = furnitureOf(laid);
  const index = new PlaceIndex();
  const shapes: SheetShape[] = [];
  const counts = { furniture: 0, copies: 0, unseen: 0 };
  for (const page of laid) {
    const corner = at.get(page.number)!;
    const move = affine(1, 0, 0, 1, corner.x, corner.y);
    for (const here of placedShapes(page)) {
      const { shape } = here;
      if (furniture.has(shape.id)) {
        counts.furniture++;
        continue;
      }
      if (!shape.seen) {
        counts.unseen++;
        continue;
      }
      const onSheet = { ...here, at: { x: here.at.x + corner.x, y: here.at.y + corner.y } };
      const again = index.equalAt(onSheet, borderMatch).some((other) => other.page !== page.number);
      if (again) {
        counts.copies++;
        continue;
      }
      index.add(onSheet);
      shapes.push({ ...shape, page: page.number, path: mapPath(move, shape.path) });
    }
  }
  return { shapes, ...counts };
}
