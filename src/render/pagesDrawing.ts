import { line, type Path } from '../geometry/segment';
import { type TablePoint, tablePoint } from '../gestures/frames';
import type { PagePlace, PagesDraft, PdfPage } from '../store/pagesDraft';
import type { Shown } from './board';
import { clipPath } from './clipPath';
import { blankSketch, type Drawing, stroke } from './drawing';

/** The pages of a tiled pattern as they lie: a thin border, the number, the lines. A page that is moved is not drawn anew. */
export function pagesShown({ pages, places, leftOut }: PagesDraft): readonly Shown[] {
  const byNumber = new Map(pages.map((page) => [page.number, page]));
  return places.flatMap((place): Shown[] => {
    const page = byNumber.get(place.page);
    if (page === undefined || leftOut.includes(place.page)) return [];
    return [{ key: `page ${place.page}`, drawing: pageDrawing(page), offset: offsetOf(place) }];
  });
}

const known = new WeakMap<PdfPage, Drawing>();

function pageDrawing(page: PdfPage): Drawing {
  const before = known.get(page);
  if (before !== undefined) return before;
  const sketch = blankSketch();
  const seen = page.shapes.filter((shape) => shape.seen !== null);
  sketch.shapes.push(
    stroke([border(page)], 'ink-soft', 1, { dash: [6, 4] }),
    stroke(
      seen.flatMap(({ path, seen: window }) => clipPath(path, window!)),
      'ink',
      1.1,
      { alpha: 0.85 },
    ),
  );
  sketch.labels.push({
    at: { x: page.width / 2, y: page.height / 2 },
    text: String(page.number),
    ink: 'accent',
    size: 18,
    bold: true,
    align: 'center',
    shift: [0, 6],
  });
  known.set(page, sketch);
  return sketch;
}

function border({ width, height }: PdfPage): Path {
  const corners = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  return corners.map((corner, index) => line(corner, corners[(index + 1) % 4]!));
}

const offsets = new WeakMap<PagePlace, TablePoint>();

function offsetOf(place: PagePlace): TablePoint {
  const before = offsets.get(place);
  if (before !== undefined) return before;
  const offset = tablePoint(place.at.x, place.at.y);
  offsets.set(place, offset);
  return offset;
}
