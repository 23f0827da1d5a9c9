import type { PdfPage } from '../../../exchange/pdf/pdfReading';
import { fail, type Outcome, succeed } from '../../../geometry/outcome';
import { newId } from '../../../store/newId';
import { type PagesDraft, pagesFrame } from '../../../store/pagesDraft';
import type { Laid } from '../laid';
import { type Workshop, watched } from '../watched';
import { draftFromPages } from './draftFromPages';
import { pagePicture } from './pagePicture';

/**
 * Reads a PDF in the background. A single page is laid down at once, several are first laid together by the maker, and
 * pages that are only pictures take the way of a scan.
 */
export async function openPages(bytes: Uint8Array, file: File, workshop: Workshop): Promise<Outcome<Laid>> {
  const book = newId();
  const read = await watched({ task: 'pdf', bytes, book }, workshop);
  if (!read.ok) return read;
  const { pages, arranged, square, warnings } = read.value;
  const drawn = pages.filter(({ rasterOnly }) => !rasterOnly);
  if (drawn.length === 0) return scanOf(pages, file, workshop);
  const lie = { pages, places: arranged.places, leftOut: leftOutAtFirst(pages) };
  const laid: PagesDraft = {
    book,
    source: file.name,
    ...lie,
    frame: pagesFrame(lie),
    arranged,
    square,
    warnings,
  };
  if (drawn.length > 1) return succeed({ lay: () => workshop.bringIn.actions.layPages(laid), warnings });
  const draft = await draftFromPages(laid, workshop);
  if (!draft.ok) return draft;
  return succeed({ lay: () => workshop.bringIn.actions.layDraft(draft.value), warnings });
}

/** Pages without a line worth reading: pictures, and pages of words only. */
function leftOutAtFirst(pages: readonly PdfPage[]): readonly number[] {
  return pages.filter(({ rasterOnly, shapes }) => rasterOnly || shapes.length === 0).map(({ number }) => number);
}

async function scanOf(pages: readonly PdfPage[], file: File, workshop: Workshop): Promise<Outcome<Laid>> {
  const [first] = pages;
  const bytes = await file.arrayBuffer().catch(() => null);
  if (first === undefined || bytes === null) {
    return fail('file-unreadable', 'This file could not be read. Try it once more.');
  }
  const scan = await pagePicture(new Uint8Array(bytes), file.name, first.number, workshop);
  if (!scan.ok) return scan;
  if (pages.length === 1) return succeed({ scan: scan.value, warnings: [] });
  const book = { id: newId(), source: file.name, pages: pages.map(({ number }) => number), file };
  const others = `The ${pages.length} pages of this PDF are pictures. The first lies here; the others can be added to it one by one.`;
  return succeed({ scan: { ...scan.value, book }, warnings: [others] });
}
