import { sameShape, squareLean } from '../../geometry/tolerance';
import type { PdfPage, PdfShape } from './pdfReading';
import { type PlacedShape, PlaceIndex, placedShapes } from './shapeMatch';

/** mm. A mark this small that comes again at the same place of the pages is no piece. */
const smallMark = 60;

/** mm. Marks of a page stand no farther than this from its edge. */
const margin = 25;

/** A frame is at least this share of its page, in the direction or directions it runs. */
const frameShare = 0.5;

/** Pages from which on standing at the same place of most of them is evidence enough. */
const manyPages = 3;

/**
 * Ids of the shapes that belong to the pages and not to the pattern: what stands at the same place of most pages and is
 * a rectangle, a small mark, or a straight line of the page's frame. A line must be on all pages but one: a long band
 * laid across a row of pages is the same line on all of them but the first and the last. Of two pages, twice the same piece
 * or pattern mark is as likely: there only frames, and marks wholly in the margin, are the pages' own.
 */
export function furnitureOf(pages: readonly PdfPage[]): ReadonlySet<string> {
  if (pages.length < 2) return new Set();
  const index = new PlaceIndex();
  const all = pages.flatMap(placedShapes);
  for (const placed of all) index.add(placed);
  const byNumber = new Map(pages.map((page) => [page.number, page]));
  const furniture = new Set<string>();
  for (const placed of all) {
    const { shape } = placed;
    const kind = kindOf(placed);
    if (kind === null || furniture.has(shape.id)) continue;
    if (pages.length < manyPages && !isOfPage(placed, kind, byNumber.get(placed.page)!)) continue;
    const same = index.equalAt(placed, 2 * sameShape);
    const onPages = new Set(same.map(({ page }) => page)).size;
    const enough = kind === 'line' ? Math.max(2, pages.length - 1) : Math.max(2, Math.floor(pages.length / 2) + 1);
    if (onPages >= enough) for (const other of same) furniture.add(other.shape.id);
  }
  return furniture;
}

/** Whether a shape looks like a page's own even where few pages tell: a frame, a line of one, or a mark in the margin. */
function isOfPage({ box }: PlacedShape, kind: 'rectangle' | 'mark' | 'line', { width, height }: PdfPage): boolean {
  const isWide = box.maxX - box.minX >= frameShare * width;
  const isTall = box.maxY - box.minY >= frameShare * height;
  if (kind === 'rectangle') return isWide && isTall;
  const inMargin =
    box.maxX <= margin || box.maxY <= margin || box.minX >= width - margin || box.minY >= height - margin;
  return inMargin && (kind === 'mark' || isWide || isTall);
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
