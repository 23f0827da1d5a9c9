import { readFile } from 'node:fs/promises';
import type { Download } from '@playwright/test';
import { distance } from '../../../src/geometry/point';
import { dotsPerMm, rasterPage } from '../../print/support/poppler';
import { type ReadPage, readPdf } from '../../print/support/readPdf';
import { darkMiddles } from '../../support/pgm';

export interface Printed {
  readonly bytes: Buffer;
  readonly pages: readonly ReadPage[];
  readonly printScaling: string | null;
}

/** A saved PDF as pdfjs reads it. */
export async function readPrinted(saved: Download): Promise<Printed> {
  const bytes = await readFile(await saved.path());
  return { bytes, ...(await readPdf(new Uint8Array(bytes))) };
}

/** The sides of a test square on the first page, mm, as pdfjs reads its four lines and as poppler draws it at 600 dpi. */
export function measureSquare(
  { bytes, pages }: Printed,
  side: number,
): { readonly pdfjs: readonly number[]; readonly poppler: readonly [across: number, down: number] } {
  const squares = pages[0]!.strokes.filter(
    ({ path }) => path.length === 4 && path.every(({ start, end }) => Math.abs(distance(start, end) - side) < 1),
  );
  if (squares.length !== 1) throw new Error(`${squares.length} squares of about ${side} mm on the first page`);
  const { path } = squares[0]!;
  const corners = path.map(({ start }) => start);
  const left = Math.min(...corners.map(({ x }) => x));
  const top = Math.min(...corners.map(({ y }) => y));
  const image = rasterPage(new Uint8Array(bytes), 1);
  // A fifth of the side in from a corner, where nothing but the two sides of the square is drawn.
  const row = darkMiddles(image, { row: Math.round((top + side / 5) * dotsPerMm) });
  const column = darkMiddles(image, { column: Math.round((left + side / 5) * dotsPerMm) });
  const span = (dots: readonly number[], from: number) => nearest(dots, from + side) - nearest(dots, from);
  return { pdfjs: path.map(({ start, end }) => distance(start, end)), poppler: [span(row, left), span(column, top)] };
}

function nearest(dots: readonly number[], wanted: number): number {
  const places = dots.map((dot) => dot / dotsPerMm);
  return places.reduce(
    (best, place) => (Math.abs(place - wanted) < Math.abs(best - wanted) ? place : best),
    Number.POSITIVE_INFINITY,
  );
}
