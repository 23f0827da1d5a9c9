import { sameShape, squareLean } from '../../geometry/tolerance';
import type { PdfPage, PdfShape } from './pdfReading';
import { type PlacedShape, PlaceIndex, placedShapes } from './shapeMatch';

/** mm. A mark this small that comes again at the same place of the pages is no piece. */
const smallMark = 60;

/**
 * Ids of the shapes that belong to the pages and not to the pattern: what stands at the same place of most pages and is
 * a rectangle, a small mark, or a straight line of the page's frame. A line must be on all pages but one: a long band
 * laid across a row of pages is the same line on all of them but the first and the last.
 */
export function furnitureOf(pages: readonly PdfPage[]): ReadonlySet<string> {
  if (pages.length < 2) return new Set();
  const index = new PlaceIndex();
  const all = pages.flatMap(placedShapes);
  for (const placed of all) index.add(placed);
  const furniture = new Set<string>();
  for (const placed of all) {
    const { shape } = placed;
    const kind = kindOf(placed);
    if (kind === null || furniture.has(shape.id)) continue;
    const same = index.equalAt(placed, 2 * sameShape);
    const onPages = new Set(same.map(({ page }) => page)).size;
    const enough = kind === 'line' ? Math.max(2, pages.length - 1) : Math.max(2, Math.floor(pages.length / 2) + 1);
    if (onPages >= enough) for (const other of same) furniture.add(other.shape.id);
  }
  return furniture;
}

function kindOf({ shape, box }: PlacedShape): 'rectangle' | 'mark' | 'line' | null {
  if (Math.hypot(box.maxX - box.minX, box.maxY - box.minY) <= smallMark) return 'mark';
  if (!shape.path.every((s) => s.kind === 'line' && isSquare(s.end.x - s.start.x, s.end.y - s.start.y))) return null;
  return shape.closed && shape.path.length <= 8 ? 'rectangle' : shape.path.length <= 2 ? 'line' : null;
}

function isSquare(dx: number, dy: number): boolean {
  return Math.abs(dx) <= squareLean * Math.abs(dy) || Math.abs(dy) <= squareLean * Math.abs(dx);
}

/** The shapes of a page that belong to the pattern. */
export function patternShapes(page: PdfPage, furniture: ReadonlySet<string>): readonly PdfShape[] {
  return page.shapes.filter((shape) => !furniture.has(shape.id));
}
