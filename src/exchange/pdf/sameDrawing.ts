import { contains } from './boxes';
import { bestShift, type PageJoin, type Vote } from './pageJoin';
import type { PdfPage } from './pdfReading';
import { type PlacedShape, placedShapes, ShapeIndex } from './shapeMatch';

/** A shape that stands this often on one page cannot tell which of its copies it is. */
const mostAlike = 4;

/** mm. Shapes smaller than this have too many equals to tell anything. */
const smallest = 15;

/** mm. Shifts this near to each other are one. */
const give = 0.3;

/** Two pages of one sheet show different parts of it: they are shifted by more than this share of a page. */
const leastShift = 0.4;

/** mm. Least length of line that must agree for a join to be sure. */
const sureLength = 50;

/**
 * Joins between pages that draw the same lines at different places: programs that make tiles often draw the whole
 * pattern on every page and cut it off at the border. A line seen whole on both pages says nothing: that is a title or
 * a mark, or a piece that the file shows twice.
 */
export function sameDrawingJoins(pages: readonly PdfPage[], furniture: ReadonlySet<string>): PageJoin[] {
  const index = new ShapeIndex();
  const all = pages
    .flatMap(placedShapes)
    .filter((placed) => !furniture.has(placed.shape.id) && sizeOf(placed) >= smallest);
  for (const placed of all) index.add(placed);
  const byNumber = new Map(pages.map((page) => [page.number, page]));
  const votes = new Map<string, Vote[]>();
  const done = new Set<PlacedShape>();
  for (const placed of all) {
    if (done.has(placed)) continue;
    const equals = index.equalTo(placed);
    for (const other of equals) done.add(other);
    const onPage = new Map<number, PlacedShape[]>();
    for (const other of equals) onPage.set(other.page, [...(onPage.get(other.page) ?? []), other]);
    for (const [first, here] of onPage) {
      for (const [second, there] of onPage) {
        if (second <= first || here.length > mostAlike || there.length > mostAlike) continue;
        const key = `${first},${second}`;
        const held = votes.get(key) ?? [];
        for (const a of here) for (const b of there) held.push(...vote(byNumber, a, b, here.length * there.length));
        votes.set(key, held);
      }
    }
  }
  return [...votes].flatMap(([key, held]) => {
    const [first, second] = key.split(',').map(Number) as [number, number];
    const found = bestShift(held, give);
    if (!found) return [];
    const { best, next } = found;
    const clear = !next || next.weight <= 0.5 * best.weight;
    return {
      first,
      second,
      shift: best.shift,
      how: 'same-drawing' as const,
      matches: best.count,
      agreement: 1,
      worst: best.worst,
      sure: clear && best.weight >= sureLength,
    };
  });
}

/** The evidence of two equal shapes; weighs as much as they are long, divided among all copies they may be. */
function vote(pages: ReadonlyMap<number, PdfPage>, a: PlacedShape, b: PlacedShape, among: number): Vote[] {
  const first = pages.get(a.page)!;
  const second = pages.get(b.page)!;
  const shift = { x: a.at.x - b.at.x, y: a.at.y - b.at.y };
  if (Math.abs(shift.x) < leastShift * first.width && Math.abs(shift.y) < leastShift * first.height) return [];
  if (isWhole(a, first) && isWhole(b, second)) return [];
  return [{ shift, weight: sizeOf(a) / among }];
}

function sizeOf({ box }: PlacedShape): number {
  return Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
}

/** Whether all of a shape is seen on its page. */
function isWhole({ shape, box }: PlacedShape, page: PdfPage): boolean {
  const { seen } = shape;
  return (
    seen !== null && contains(seen, box) && contains({ minX: 0, minY: 0, maxX: page.width, maxY: page.height }, box)
  );
}
