import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { DrawnShape } from '../../../src/exchange/drawing/drawingReading';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { readSvg } from '../../../src/exchange/svg/readSvg';
import { flattenPath } from '../../../src/geometry/flatten';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { drawPdf } from '../../../src/print/drawPdf';
import { paperNamed, planned, printable } from '../../print/support/garments';
import { casePiece } from '../../print/support/pieces';
import { requirePoppler } from '../../print/support/poppler';
import { pdfFile } from './pdfText';
import { gradedSheet } from './sheets';
import { tiledPdf } from './tiles';

/** (Left alone, it fits pages into whole points and so shrinks them by 0.1 %.) */
/** A page (counted from 1) as poppler's own reader sees it, written as SVG; places in points. Poppler is GPL, a tool of the tests only. */
function popplerSvg(pdf: Uint8Array, page: number): string {
  const folder = mkdtempSync(join(tmpdir(), 'pdf-test-'));
  try {
    const file = join(folder, 'in.pdf');
    const out = join(folder, 'out.svg');
    writeFileSync(file, pdf);
    execFileSync('pdftocairo', ['-svg', '-noshrink', '-nocenter', '-f', `${page}`, '-l', `${page}`, file, out]);
    return readFileSync(out, 'utf8');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const mm = 25.4 / 72;

/** mm from every place of one path to another, the farthest. */
function away(shape: DrawnShape, other: DrawnShape, scale: number): number {
  return Math.max(
    ...flattenPath(shape.path, 0.05).map(
      (p) => nearestOnPath(other.path, { x: p.x / scale, y: p.y / scale }).distance * scale,
    ),
  );
}

async function compare(pdf: Uint8Array, allOfTheirs: boolean): Promise<{ count: number; worst: number }> {
  const read = await readPdf(pdf);
  if (!read.ok) throw new Error(read.sentence);
  let worst = 0;
  let count = 0;
  for (const page of read.value.pages) {
    const svg = readSvg(popplerSvg(pdf, page.number));
    if (!svg.ok) throw new Error(svg.sentence);
    const theirs = svg.value.shapes;
    const ours = page.shapes.filter(({ seen }) => seen);
    if (allOfTheirs) expect(theirs.length).toBe(ours.length);
    for (const shape of ours) {
      const twin = theirs
        .filter((other) => Math.abs(other.path.length - shape.path.length) <= 1 && other.closed === shape.closed)
        .map((other) => Math.max(away(shape, other, mm), away(other, shape, 1 / mm) * mm))
        .reduce((best, off) => Math.min(best, off), Number.POSITIVE_INFINITY);
      worst = Math.max(worst, twin);
      count++;
    }
  }
  return { count, worst };
}

beforeAll(requirePoppler);

describe('what poppler reads in the same files', () => {
  it('a sheet in tiles, forms, turned and cropped pages: the same lines to 0.02 mm', async () => {
    const tiles = tiledPdf(gradedSheet(), { columns: 2, rows: 2, width: 190, height: 270, margin: 10, how: 'cut' });
    const crooked = pdfFile(
      [
        {
          content:
            'q 0.8 0.3 -0.3 0.8 120 40 cm /A Do 1 w [5 2] 0 d 0 0 1 RG 30 30 m 90 140 200 60 260 200 c S 40 300 100 60 re S Q 10 10 m 500 700 l S',
          resources: '/XObject << /A 100 0 R >>',
          extra: '/Rotate 270 /CropBox [20 30 580 800]',
        },
      ],
      [
        {
          number: 100,
          dictionary: '/Type /XObject /Subtype /Form /BBox [0 0 900 900] /Matrix [1.5 0 0.4 1.5 20 10]',
          stream: '1 0 0 RG 20 20 m 100 20 l 140 90 l h S',
        },
      ],
    );
    const first = await compare(tiles.bytes, false);
    const second = await compare(crooked, true);
    expect(first.count).toBeGreaterThan(12);
    expect(second.count).toBe(4);
    expect(first.worst).toBeLessThan(0.02);
    expect(second.worst).toBeLessThan(0.02);
  });

  it('our own print: the same lines to 0.02 mm', async () => {
    const plan = planned([printable(casePiece('O03-bodice-front-parallel'))], { paper: paperNamed('A4') });
    const { count, worst } = await compare(await drawPdf(plan), false);
    expect(count).toBeGreaterThan(60);
    expect(worst).toBeLessThan(0.02);
  });
});
