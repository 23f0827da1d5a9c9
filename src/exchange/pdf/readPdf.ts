import type { PDFPageProxy } from 'pdfjs-dist';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { affine } from '../drawing/affine';
import { controlBox, type PlacedText, textNear } from '../drawing/nearText';
import { overlap } from './graphicsState';
import type { PdfLayer, PdfLayers } from './layers';
import { pdfLimits } from './limits';
import { damaged, withPdf } from './openPdf';
import { type DrawnOnPage, PageDrawing, pictureBox } from './pageDrawing';
import { pageOperators } from './pageOperators';
import type { PDFDocumentProxy } from './pdfLibrary';
import type { PdfPage, PdfPicture, PdfReading, PdfReport, PdfShape } from './pdfReading';
import { PdfWarnings } from './pdfWarnings';
import { statedSizes } from './statedSize';

const mmPerPoint = 25.4 / 72;

/** mm. Shapes smaller than this are given no name: letters drawn as outlines, marks. */
const nameable = 20;

/** mm. The largest page believed. */
const largestPage = 20_000;

/** A page is a picture when pictures cover this share of it and no line longer than `nameable` is drawn on it. */
const pictureShare = 0.4;

/**
 * Reads the lines, words and pictures of a PDF, page by page, in mm (see docs/bring-in-pdf.md). Works without a browser
 * window; nothing in the file is run or fetched.
 *
 * Refuses, with a sentence: files that are empty, not PDF, damaged, locked, or beyond the limits, and files with
 * nothing on their pages.
 */
export function readPdf(bytes: Uint8Array, report: PdfReport = () => {}): Promise<Outcome<PdfReading>> {
  report({ share: 0, doing: 'Opening the file' });
  return withPdf(bytes, (document) => readPages(document, isCutShort(bytes), report));
}

async function readPages(
  document: PDFDocumentProxy,
  cutShort: boolean,
  report: PdfReport,
): Promise<Outcome<PdfReading>> {
  const warnings = new PdfWarnings();
  if (cutShort) warnings.note('cut-short');
  const layers = await readLayers(document);
  const pages: PdfPage[] = [];
  let operators = 0;
  let segments = 0;
  let shapes = 0;
  for (let number = 1; number <= document.numPages; number++) {
    report({ share: (number - 1) / document.numPages, doing: `Reading page ${number} of ${document.numPages}` });
    const page = await document.getPage(number).catch(() => null);
    const size = page && pageSize(page);
    if (!page || !size) {
      warnings.note('page-damaged');
      continue;
    }
    const most = Math.min(pdfLimits.pageOperators, pdfLimits.operators - operators);
    const list = await pageOperators(page, most).catch(() => null);
    if (list === 'too-many') return tooMuch();
    const drawing = new PageDrawing(size, layers, warnings);
    if (list) drawing.follow(list);
    else warnings.note('page-damaged');
    if (drawing.failure) return drawing.failure;
    page.cleanup();
    operators += list?.fnArray.length ?? 0;
    segments += drawing.segments;
    shapes += drawing.shapes.length;
    if (segments > pdfLimits.segments || shapes > pdfLimits.shapes) return tooMuch();
    pages.push(asPage(number, size, drawing));
  }
  if (pages.length === 0) return damaged();
  if (pages.every((page) => page.shapes.length === 0 && page.pictures.length === 0)) {
    return fail(
      'pdf-no-lines',
      `There are no lines on the pages of this file, and no pictures of at most ${pdfLimits.dots / 1e6} million dots. Check that it is the pattern; scan it at 300 dots per inch.`,
    );
  }
  return succeed({ pages, warnings: warnings.sentences() });
}

/** How far before its end a file may hold the mark of its end; some servers add a few bytes (annex H, note 18). */
const endReach = 1024;

/** Whether the mark every PDF ends with (ISO 32000-1, 7.5.5) is missing. */
function isCutShort(bytes: Uint8Array): boolean {
  let end = '';
  for (const byte of bytes.subarray(-endReach)) end += String.fromCharCode(byte);
  return !end.includes('%%EOF');
}

interface PageSize {
  readonly width: number;
  readonly height: number;
  readonly map: ReturnType<typeof affine>;
}

/** Size in mm and the map to it, crop box, rotation and unit of the page worked in; null for a page of no size. */
export function pageSize(page: PDFPageProxy): PageSize | null {
  const { width, height, transform } = page.getViewport({ scale: mmPerPoint });
  const [a, b, c, d, e, f] = transform as [number, number, number, number, number, number];
  const usable = [width, height].every((side) => side > 0 && side <= largestPage);
  return usable && [a, b, c, d, e, f].every(Number.isFinite) ? { width, height, map: affine(a, b, c, d, e, f) } : null;
}

async function readLayers(document: PDFDocumentProxy): Promise<PdfLayers> {
  const layers = new Map<string, PdfLayer>();
  const config = await document.getOptionalContentConfig().catch(() => null);
  if (!config) return layers;
  for (const [id, group] of config) {
    if (typeof id === 'string' && typeof group.name === 'string') {
      layers.set(id, { name: group.name, shown: group.visible !== false });
    }
  }
  return layers;
}

/** The page a drawing makes. */
export function asPage(number: number, { width, height }: PageSize, drawing: PageDrawing): PdfPage {
  const { texts } = drawing;
  // What says a length belongs to a test square or a line, and is no name.
  const names = texts.filter(({ words }) => statedSizes(words).length === 0);
  const shapes = drawing.shapes.map(
    (shape, i): PdfShape => ({
      ...shape,
      id: `page-${number}-shape-${i + 1}`,
      nearText: nameFor(shape, names),
    }),
  );
  const area = { minX: 0, minY: 0, maxX: width, maxY: height };
  const pictures = drawing.pictures.flatMap(({ map }): PdfPicture[] => {
    const box = pictureBox(map);
    const seen = overlap(box, area);
    const share = ((seen.maxX - seen.minX) * (seen.maxY - seen.minY)) / (width * height);
    return seen.maxX > seen.minX && seen.maxY > seen.minY ? [{ box, share }] : [];
  });
  const covered = pictures.reduce((sum, { share }) => sum + share, 0);
  const drawn = shapes.some(({ path, seen }) => seen && diagonal(path) > nameable);
  return { number, width, height, shapes, texts, pictures, rasterOnly: covered >= pictureShare && !drawn };
}

function nameFor({ path }: DrawnOnPage, texts: readonly PlacedText[]): string | null {
  return texts.length > 0 && diagonal(path) > nameable ? textNear(controlBox(path), texts) : null;
}

function diagonal(path: DrawnOnPage['path']): number {
  const box = controlBox(path);
  return Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
}

function tooMuch(): Outcome<never> {
  return fail(
    'pdf-too-much',
    'There is far more drawn in this file than a pattern needs, so it would never be finished. Save only the pages with the pattern pieces and open those.',
  );
}
