import { joinLoosePaths } from '../../../src/exchange/drawing/joinLoosePaths';
import { arrangePages } from '../../../src/exchange/pdf/arrangePages';
import { findTestSquare } from '../../../src/exchange/pdf/findTestSquare';
import { layPages } from '../../../src/exchange/pdf/layPages';
import type { PdfPage } from '../../../src/exchange/pdf/pdfReading';

export function lookAtNumbers(pages: readonly PdfPage[]): void {
  for (const { shapes } of pages) {
    for (const { path } of shapes) {
      if (path.length === 0) throw new Error('a shape without a line');
      for (const { start, end } of path) {
        if (![start.x, start.y, end.x, end.y].every((n) => Math.abs(n) <= 1e6))
          throw new Error('a coordinate that is none');
      }
    }
  }
}

/** Carries pages as far as lines can go. */
export function carry(pages: readonly PdfPage[]): 'empty' | 'laid' | 'joined' {
  lookAtNumbers(pages);
  findTestSquare(pages);
  const { places, worst } = arrangePages(pages);
  if (places.length !== pages.length || !(worst >= 0)) throw new Error('pages without a place');
  if (!places.every(({ at }) => Number.isFinite(at.x) && Number.isFinite(at.y)))
    throw new Error('a place that is none');
  const laid = layPages(pages, places);
  if (!laid.ok) return 'empty';
  if (new Set(laid.value.shapes.map(({ id }) => id)).size !== laid.value.shapes.length) throw new Error('an id twice');
  return joinLoosePaths(laid.value.shapes).outlines.some(({ closed }) => closed) ? 'joined' : 'laid';
}
