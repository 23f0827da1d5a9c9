import { intersectLineWithPath } from '../../../src/geometry/intersect';
import { distanceAt, pathLength, pathPointAt, subPath } from '../../../src/geometry/path';
import type { Point } from '../../../src/geometry/point';
import type { Path } from '../../../src/geometry/segment';
import { pdfFile, pt, type TestPage } from './pdfText';

/** A line of a test sheet: its path in mm and the operators that give it its look. */
export interface SheetLine {
  readonly path: Path;
  readonly look?: string;
}

export interface TileWish {
  readonly columns: number;
  readonly rows: number;
  /** mm of the sheet that a page shows. */
  readonly width: number;
  readonly height: number;
  /** mm by which neighbouring pages show the same. */
  readonly overlap?: number;
  /** mm of white round what a page shows. */
  readonly margin?: number;
  /** The whole drawing on every page with a window over it, or only what lies on the page. */
  readonly how: 'window' | 'cut';
  readonly frame?: boolean;
  /** Digits after the point of a place in points. */
  readonly digits?: number;
  readonly words?: (row: number, column: number) => string;
}

/** A sheet printed in tiles, row by row, and where the upper left corner of each page belongs on the sheet, mm. */
export function tiledPdf(lines: readonly SheetLine[], wish: TileWish): { bytes: Uint8Array; corners: Point[] } {
  const { columns, rows, width, height, overlap = 0, margin = 0 } = wish;
  const corners: Point[] = [];
  const pages: TestPage[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = column * (width - overlap);
      const y = row * (height - overlap);
      corners.push({ x: x - margin, y: y - margin });
      pages.push(page(lines, wish, { x, y }, wish.words?.(row, column) ?? ''));
    }
  }
  return { bytes: pdfFile(pages), corners };
}

function page(lines: readonly SheetLine[], wish: TileWish, corner: Point, words: string): TestPage {
  const { width, height, margin = 0, how, frame, digits = 5 } = wish;
  const pageHeight = (height + 2 * margin) * pt;
  const flip = (p: Point) =>
    `${((p.x - corner.x + margin) * pt).toFixed(digits)} ${(pageHeight - (p.y - corner.y + margin) * pt).toFixed(digits)}`;
  const box = `${margin * pt} ${margin * pt} ${width * pt} ${height * pt} re`;
  const drawn = lines.flatMap(({ path, look = '' }) => {
    const parts = how === 'window' ? [path] : cutTo(path, corner, width, height);
    return parts.map((part) => `q ${look} ${written(part, flip)} S Q`);
  });
  const window = how === 'window' ? `${box} W n` : '';
  const content = `${frame ? `0.5 G ${box} S 0 G` : ''} q ${window} ${drawn.join('\n')} Q BT /F1 9 Tf 20 20 Td (${words}) Tj ET`;
  return { content, mediaBox: [0, 0, (width + 2 * margin) * pt, pageHeight] };
}

function written(path: Path, at: (p: Point) => string): string {
  const segments = path.map((s) =>
    s.kind === 'line' ? `${at(s.end)} l` : `${at(s.control1)} ${at(s.control2)} ${at(s.end)} c`,
  );
  return [`${at(path[0]!.start)} m`, ...segments].join(' ');
}

/** The parts of a path inside a rectangle. */
function cutTo(path: Path, corner: Point, width: number, height: number): Path[] {
  const across = [corner.x, corner.x + width].map(
    (x) =>
      [
        { x, y: 0 },
        { x: 0, y: 1 },
      ] as const,
  );
  const down = [corner.y, corner.y + height].map(
    (y) =>
      [
        { x: 0, y },
        { x: 1, y: 0 },
      ] as const,
  );
  const cuts = [...across, ...down].flatMap(([through, along]) =>
    intersectLineWithPath(through, along, path).map(({ segment, t }) => distanceAt(path, segment, t)),
  );
  const places = [0, ...cuts, pathLength(path)].sort((a, b) => a - b);
  const kept: [number, number][] = [];
  for (let i = 0; i + 1 < places.length; i++) {
    const [from, to] = [places[i]!, places[i + 1]!];
    if (to - from < 1e-6) continue;
    const { point } = pathPointAt(path, (from + to) / 2);
    const inside =
      point.x > corner.x && point.x < corner.x + width && point.y > corner.y && point.y < corner.y + height;
    if (!inside) continue;
    if (kept.at(-1)?.[1] === from) kept.at(-1)![1] = to;
    else kept.push([from, to]);
  }
  return kept.map(([from, to]) => subPath(path, from, to)).filter((part) => part.length > 0);
}
