import { jsPDF } from 'jspdf';
import { joinLoosePaths } from '../../src/exchange/drawing/joinLoosePaths';
import { arrangePages } from '../../src/exchange/pdf/arrangePages';
import { layPages } from '../../src/exchange/pdf/layPages';
import { readPdf } from '../../src/exchange/pdf/readPdf';
import { pathBounds } from '../../src/geometry/bounds';
import { frontAndBack, must } from './pieces';
import { show } from './timing';

const columns = 8;
const rows = 5;
const tile = { width: 190, height: 277 };
const margin = 10;
const sizes = 10;

/** A tiled pattern of 40 A4 pages with ten nested sizes of front and back, to the outline of one piece. */
export async function pdfIn(): Promise<void> {
  const bytes = tiledPattern();
  const rounds: number[][] = [];
  let pieces = 0;
  let pages = 0;
  for (let round = 0; round < 4; round++) {
    const spans: number[] = [];
    let start = performance.now();
    const lap = () => {
      spans.push(performance.now() - start);
      start = performance.now();
    };
    const reading = must(await readPdf(bytes));
    lap();
    const { places } = arrangePages(reading.pages);
    lap();
    const sheet = must(layPages(reading.pages, places));
    lap();
    const { outlines } = joinLoosePaths(sheet.shapes);
    lap();
    pages = reading.pages.length;
    pieces = outlines.filter(({ closed }) => closed).length;
    rounds.push(spans);
  }
  const [read, arrange, lay, join] = [0, 1, 2, 3].map(
    (step) =>
      rounds
        .slice(1)
        .map((spans) => spans[step]!)
        .sort((a, b) => a - b)[1]!,
  ) as [number, number, number, number];
  console.log(
    `PDF in, ${pages} pages, ${(bytes.length / 1e6).toFixed(1)} MB: read ${show(read)} (${show(read / pages)} a page), arrange ${show(arrange)}, lay together ${show(lay)}, join into ${pieces} closed outlines ${show(join)}, together ${show(read + arrange + lay + join)} (goal 3000 ms)`,
  );
}

/** Every page holds the whole drawing, moved and cut off at the page's frame, as programs write tiles. */
function tiledPattern(): Uint8Array {
  const [front, back] = frontAndBack();
  const doc = new jsPDF({ unit: 'mm', format: 'a4', precision: 4 });
  for (let page = 0; page < columns * rows; page++) {
    if (page > 0) doc.addPage();
    const column = page % columns;
    const row = Math.floor(page / columns);
    doc.saveGraphicsState();
    doc.rect(margin, margin, tile.width, tile.height, null);
    doc.clip();
    doc.discardPath();
    for (let size = 0; size < sizes; size++) {
      doc.setLineDashPattern(size % 2 === 0 ? [] : [2 + size, 2], 0);
      for (const [k, piece] of [front, back].entries()) {
        const path = piece.edges.flatMap((edge) => edge.path);
        const box = pathBounds(path);
        const grow = 1 + 0.03 * size;
        const at = (p: { x: number; y: number }): [number, number] => [
          margin + 60 + 700 * k + (p.x - box.minX) * grow * 1.6 - column * tile.width,
          margin + 60 + (p.y - box.minY) * grow * 1.5 - row * tile.height,
        ];
        doc.moveTo(...at(path[0]!.start));
        for (const s of path) {
          if (s.kind === 'line') doc.lineTo(...at(s.end));
          else doc.curveTo(...at(s.control1), ...at(s.control2), ...at(s.end));
        }
        doc.close();
        doc.stroke();
      }
    }
    doc.setLineDashPattern([], 0);
    doc.restoreGraphicsState();
    doc.rect(margin, margin, tile.width, tile.height);
    doc.text(`row ${row + 1}, column ${column + 1}`, 20, 20);
  }
  return new Uint8Array(doc.output('arraybuffer'));
}
