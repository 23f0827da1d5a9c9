import { encode } from 'jpeg-js';
import { jsPDF } from 'jspdf';

/** A skirt front of our own, mm: size 10 solid, size 12 dashed and 20 mm wider and longer; both begin at (20, 20). */
export const skirt = { left: 20, top: 20, width: 240, height: 560, step: 20 } as const;

/** A4 with 10 mm left free round what is printed. */
const page = { width: 210, height: 297, margin: 10 } as const;
export const tile = { across: page.width - 2 * page.margin, down: page.height - 2 * page.margin } as const;

interface TiledOptions {
  /** Side of the test square as drawn, mm; what is written in it is always 50 mm. Null for none. */
  readonly square?: number | null;
  /** Enlarges everything. */
  readonly scale?: number;
}

/**
 * A pattern printed over six A4 pages, two across and three down, written by jspdf: every page draws the whole pattern,
 * shifted by its place. Nothing on the pages says where they belong.
 */
export function tiledPdf({ square = 50, scale = 1 }: TiledOptions = {}): Uint8Array {
  const doc = new jsPDF({ unit: 'mm', format: 'a4' });
  for (let row = 0; row < 3; row++) {
    for (let column = 0; column < 2; column++) {
      if (row + column > 0) doc.addPage('a4');
      const at = { x: page.margin - column * tile.across, y: page.margin - row * tile.down };
      drawSkirt(doc, at, 0, scale);
      doc.setLineDashPattern([4, 2], 0);
      drawSkirt(doc, at, skirt.step, scale);
      doc.setLineDashPattern([], 0);
      doc.setFontSize(24);
      doc.text('Skirt front', at.x + 60, at.y + 200);
    }
  }
  if (square !== null) {
    doc.setPage(1);
    doc.rect(60, 60, square * scale, square * scale);
    doc.setFontSize(8);
    doc.text('Test square 50 mm', 65, 70);
  }
  return new Uint8Array(doc.output('arraybuffer'));
}

/** One page that holds a closed outline of 100 by 150 mm and a test square of so many mm, said to be 50. */
export function onePagePdf({ square = 50 }: TiledOptions = {}): Uint8Array {
  const doc = new jsPDF({ unit: 'mm', format: 'a4' });
  doc.lines(
    [
      [0, 150],
      [100, 0],
      [0, -150],
    ],
    20,
    20,
    [1, 1],
    'S',
    true,
  );
  doc.setFontSize(14);
  doc.text('Pocket', 50, 90);
  if (square !== null) {
    doc.rect(140, 20, square, square);
    doc.setFontSize(8);
    doc.text('Test square 50 mm', 145, 40);
  }
  return new Uint8Array(doc.output('arraybuffer'));
}

function drawSkirt(doc: jsPDF, at: { readonly x: number; readonly y: number }, more: number, scale: number): void {
  const width = skirt.width + more;
  const height = skirt.height + more;
  doc.lines(
    [
      [0, height],
      [width, 0],
      [-30, -height + 180, -20, -height + 60, -60, -height],
    ],
    at.x + skirt.left * scale,
    at.y + skirt.top * scale,
    [scale, scale],
    'S',
    true,
  );
}

/** A page that is a picture: a dark piece of 120 by 160 mm on white, scanned at 150 dots to the inch over a whole A4 page. */
export function scannedPdf(pages = 1): Uint8Array {
  const width = 1240;
  const height = 1754;
  const dotsPerMm = width / page.width;
  const data = Buffer.alloc(width * height * 4, 255);
  for (let y = Math.round(50 * dotsPerMm); y < Math.round(210 * dotsPerMm); y++) {
    for (let x = Math.round(40 * dotsPerMm); x < Math.round(160 * dotsPerMm); x++) {
      data.set([90, 70, 60], (y * width + x) * 4);
    }
  }
  const doc = new jsPDF({ unit: 'mm', format: 'a4' });
  const scan = encode({ data, width, height }, 85).data;
  for (let i = 0; i < pages; i++) {
    if (i > 0) doc.addPage('a4');
    doc.addImage(new Uint8Array(scan), 'JPEG', 0, 0, page.width, page.height);
  }
  return new Uint8Array(doc.output('arraybuffer'));
}
