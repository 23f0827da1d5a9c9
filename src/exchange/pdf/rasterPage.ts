import type { PDFPageProxy } from 'pdfjs-dist';
import { type Bounds, noBounds, unionBounds } from '../../geometry/bounds';
import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import type { Picture } from '../photo/picture';
import { overlap } from './graphicsState';
import { pdfLimits } from './limits';
import { damaged, withPdf } from './openPdf';
import { type LaidPicture, PageDrawing, pictureBox } from './pageDrawing';
import { pageOperators } from './pageOperators';
import { dotsToPage, type PlacedPicture, pastedUp, uprightPicture } from './pasteUp';
import type { PDFDocumentProxy } from './pdfLibrary';
import { PdfWarnings } from './pdfWarnings';
import { pictureOf } from './pictureData';
import { pageSize } from './readPdf';

/** A page as a picture, for the photo path. */
export interface PageRaster {
  readonly picture: Picture;
  readonly mmPerDotX: number;
  readonly mmPerDotY: number;
}

/** A picture that makes up this share of all the pictures on a page is the page. */
const onlyShare = 0.95;

/**
 * The picture a page is made of (page counted from 1), with its size from where it lies on the page. A single picture
 * keeps its own dots; a page of several strips is put together at `dotsPerInch`. Refuses pages without a picture, pages
 * whose picture is of a kind that is not decoded here, and more than 60 million dots.
 */
export function rasterPage(bytes: Uint8Array, pageNumber: number, dotsPerInch: number): Promise<Outcome<PageRaster>> {
  return withPdf(bytes, (document) => rasterOf(document, pageNumber, dotsPerInch));
}

async function rasterOf(
  document: PDFDocumentProxy,
  pageNumber: number,
  dotsPerInch: number,
): Promise<Outcome<PageRaster>> {
  const page = await document.getPage(pageNumber).catch(() => null);
  const size = page && pageSize(page);
  if (!page || !size) return damaged();
  const list = await pageOperators(page, pdfLimits.pageOperators).catch(() => null);
  if (!list || list === 'too-many') return damaged();
  const drawing = new PageDrawing(size, new Map(), new PdfWarnings());
  drawing.follow(list);
  const area = { minX: 0, minY: 0, maxX: size.width, maxY: size.height };
  const laid = seenPictures(drawing.pictures, area);
  if (laid.length === 0)
    return fail(
      'page-no-picture',
      `There is no picture of at most ${pdfLimits.dots / 1e6} million dots on page ${pageNumber}. If it is a finer scan, scan or save it at 300 dots per inch.`,
    );
  const parts: PlacedPicture[] = [];
  let dots = 0;
  for (const { map, source } of laid) {
    const picture = pictureOf(await decoded(page, source));
    if (!picture) return undecodable(pageNumber);
    dots += picture.width * picture.height;
    if (dots > pdfLimits.dots) return tooManyDots();
    parts.push({ picture, toPage: dotsToPage(picture, map) });
  }
  return laid.length === 1
    ? single(parts[0]!, pictureBox(laid[0]!.map), dotsPerInch)
    : several(parts, laid, area, dotsPerInch);
}

/** The pictures to show: the one that makes up nearly all of them, or else all. */
function seenPictures(pictures: readonly LaidPicture[], area: Bounds): LaidPicture[] {
  const sized = pictures.flatMap((laid) => {
    const box = overlap(pictureBox(laid.map), area);
    const size = Math.max(0, box.maxX - box.minX) * Math.max(0, box.maxY - box.minY);
    return size > 0 ? [{ laid, size }] : [];
  });
  const all = sized.reduce((sum, { size }) => sum + size, 0);
  const main = sized.find(({ size }) => size >= onlyShare * all);
  return main ? [main.laid] : sized.map(({ laid }) => laid);
}

function single(part: PlacedPicture, box: Bounds, dotsPerInch: number): Outcome<PageRaster> {
  const picture = uprightPicture(part);
  if (!picture) return composed([part], box, dotsPerInch);
  return succeed({
    picture,
    mmPerDotX: (box.maxX - box.minX) / picture.width,
    mmPerDotY: (box.maxY - box.minY) / picture.height,
  });
}

function several(
  parts: readonly PlacedPicture[],
  laid: readonly LaidPicture[],
  area: Bounds,
  dotsPerInch: number,
): Outcome<PageRaster> {
  const box = laid.reduce((all, { map }) => unionBounds(all, pictureBox(map)), noBounds);
  return composed(parts, overlap(box, area), dotsPerInch);
}

function composed(parts: readonly PlacedPicture[], box: Bounds, dotsPerInch: number): Outcome<PageRaster> {
  const dotsPerMm = Math.min(1200, Math.max(50, dotsPerInch)) / 25.4;
  if ((box.maxX - box.minX) * (box.maxY - box.minY) * dotsPerMm ** 2 > pdfLimits.dots) return tooManyDots();
  const picture = pastedUp(parts, box, dotsPerMm);
  return succeed({
    picture,
    mmPerDotX: (box.maxX - box.minX) / picture.width,
    mmPerDotY: (box.maxY - box.minY) / picture.height,
  });
}

/** A picture by the name the operator calls it, or as it stands in the operator; null when it cannot be decoded. */
async function decoded(page: PDFPageProxy, source: unknown): Promise<unknown> {
  if (typeof source === 'string') return named(page, source);
  if (typeof source !== 'object' || source === null) return null;
  const { data } = source as { data?: unknown };
  if (typeof data !== 'string') return source;
  const held = await named(page, data);
  return typeof held === 'object' && held !== null ? { ...source, ...held } : null;
}

function named(page: PDFPageProxy, name: string): Promise<unknown> {
  // Names that begin so belong to the whole file; the library keeps them apart.
  const held = name.startsWith('g_') ? page.commonObjs : page.objs;
  return new Promise((settle) => held.get(name, settle));
}

function undecodable(page: number): Failure {
  return fail(
    'picture-unknown-kind',
    `The picture on page ${page} is damaged, or stored in a way that is not read here. Save the page as a JPEG or PNG picture and bring that in.`,
  );
}

function tooManyDots(): Failure {
  return fail(
    'picture-too-large',
    `The picture on this page has more than ${pdfLimits.dots / 1e6} million dots. Scan or save it at 300 dots per inch.`,
  );
}
