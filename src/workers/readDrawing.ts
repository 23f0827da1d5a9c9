import type { DrawingReading } from '../exchange/drawing/drawingReading';
import { type JoinResult, joinLoosePaths, type LoosePath } from '../exchange/drawing/joinLoosePaths';
import type { PageArrangement, PagePlace } from '../exchange/pdf/pageArrangement';
import type { PdfPage, PdfReading } from '../exchange/pdf/pdfReading';
import type { Meeting } from '../exchange/pdf/snapPage';
import type { TestSquare } from '../exchange/pdf/testSquare';
import type { RedrawnOutline } from '../exchange/redrawOutline';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import type { Path } from '../geometry/segment';
import type { Report } from './messages';

/** What can be asked about drawings, and what is answered. Lengths in mm unless the drawing has no scale yet. */
export interface DrawingWork {
  readonly svg: { readonly ask: { readonly bytes: Uint8Array }; readonly answer: DrawingReading };
  readonly dxf: { readonly ask: { readonly bytes: Uint8Array }; readonly answer: DrawingReading };
  /** `book` is any name of its own for the file, by which its pages are remembered. */
  readonly pdf: { readonly ask: { readonly bytes: Uint8Array; readonly book: string }; readonly answer: ReadPages };
  /** The pages as one drawing, each where it was laid. */
  readonly lay: {
    readonly ask: OfBook & { readonly places: readonly PagePlace[] };
    readonly answer: DrawingReading;
  };
  /** Where a page meets the others as they lie: places of its upper left corner. */
  readonly meet: {
    readonly ask: OfBook & { readonly places: readonly PagePlace[]; readonly page: number };
    readonly answer: readonly Meeting[];
  };
  /** Loose lines made into outlines; ends within `gap` mm meet. */
  readonly join: {
    readonly ask: { readonly lines: readonly LoosePath[]; readonly gap: number };
    readonly answer: JoinResult;
  };
  /** A closed outline with its corners found and its small steps drawn with few curves. */
  readonly outline: { readonly ask: { readonly path: Path }; readonly answer: RedrawnOutline };
  /** The picture that a page is made of. */
  readonly raster: {
    readonly ask: { readonly bytes: Uint8Array; readonly page: number; readonly dpi: number };
    readonly answer: PagePicture;
  };
}

/** A page as a picture file (PNG), and its dots to the mm. */
export interface PagePicture {
  readonly file: Blob;
  readonly across: number;
  readonly down: number;
}

/** Pages that were read before. They are sent along only to a worker that has forgotten them (`pages-forgotten`). */
export interface OfBook {
  readonly book: string;
  readonly pages: readonly PdfPage[] | null;
}

export interface ReadPages extends PdfReading {
  readonly arranged: PageArrangement;
  readonly square: TestSquare | null;
}

export type DrawingTask = keyof DrawingWork;
export type AskOf<Task extends DrawingTask> = DrawingWork[Task]['ask'] & { readonly task: Task };
export type AnswerOf<Task extends DrawingTask> = DrawingWork[Task]['answer'];
export type DrawingAsk = { readonly [Task in DrawingTask]: AskOf<Task> }[DrawingTask];
export type DrawingAnswer = AnswerOf<DrawingTask>;

/** Does what is asked. Each reader is loaded when it is first needed. */
export async function readDrawing(ask: DrawingAsk, report: Report): Promise<Outcome<DrawingAnswer>> {
  switch (ask.task) {
    case 'svg': {
      report({ share: 0, doing: 'Reading the lines' });
      const { readSvg } = await import('../exchange/svg/readSvg');
      return readSvg(new TextDecoder().decode(ask.bytes));
    }
    case 'dxf': {
      report({ share: 0, doing: 'Reading the lines' });
      const { readDxf } = await import('../exchange/dxf/readDxf');
      return readDxf(ask.bytes);
    }
    case 'pdf':
      return readPages(ask, report);
    case 'lay': {
      report({ share: 0, doing: 'Laying the pages together' });
      const { layPages } = await import('../exchange/pdf/layPages');
      const pages = pagesOf(ask);
      const used = new Set(ask.places.map(({ page }) => page));
      return pages.ok
        ? layPages(
            pages.value.filter(({ number }) => used.has(number)),
            ask.places,
          )
        : pages;
    }
    case 'meet': {
      const { pageMeetings } = await import('../exchange/pdf/snapPage');
      const pages = pagesOf(ask);
      return pages.ok ? succeed(pageMeetings(pages.value, ask.places, ask.page)) : pages;
    }
    case 'join':
      report({ share: 0, doing: 'Joining the lines' });
      return succeed(joinLoosePaths(ask.lines, ask.gap));
    case 'outline': {
      report({ share: 0, doing: 'Finding corners and curves' });
      const { redrawOutline } = await import('../exchange/redrawOutline');
      return succeed(redrawOutline(ask.path));
    }
    case 'raster':
      return pictureOfPage(ask, report);
  }
}

async function pictureOfPage(ask: AskOf<'raster'>, report: Report): Promise<Outcome<PagePicture>> {
  report({ share: 0, doing: 'Taking the picture out of the page' });
  const [{ rasterPage }, { pngOfPage }] = await Promise.all([
    import('../exchange/pdf/rasterPage'),
    import('./pngOfPage'),
  ]);
  const raster = await rasterPage(ask.bytes, ask.page, ask.dpi);
  if (!raster.ok) return raster;
  const file = await pngOfPage(raster.value);
  if (!file.ok) return file;
  return succeed({ file: file.value, across: 1 / raster.value.mmPerDotX, down: 1 / raster.value.mmPerDotY });
}

/** The pages read last stay here, so that they need not be sent for every question about them. */
let lastRead: { readonly book: string; readonly pages: readonly PdfPage[] } | null = null;

function pagesOf({ book, pages }: OfBook): Outcome<readonly PdfPage[]> {
  if (pages !== null) lastRead = { book, pages };
  return lastRead?.book === book
    ? succeed(lastRead.pages)
    : fail('pages-forgotten', 'The pages of this file are not at hand any more. Open it again.');
}

/** Share of the whole reading that is done once every page is read; the rest is laying them together. */
const readShare = 0.85;

async function readPages({ bytes, book }: AskOf<'pdf'>, report: Report): Promise<Outcome<ReadPages>> {
  const [{ readPdf }, { arrangePages }, { findTestSquare }] = await Promise.all([
    import('../exchange/pdf/readPdf'),
    import('../exchange/pdf/arrangePages'),
    import('../exchange/pdf/findTestSquare'),
  ]);
  const read = await readPdf(bytes, ({ share, doing }) => report({ share: share * readShare, doing }));
  if (!read.ok) return read;
  const { pages, warnings } = read.value;
  lastRead = { book, pages };
  report({ share: readShare, doing: 'Finding how the pages lie' });
  return succeed({ pages, warnings, arranged: arrangePages(pages), square: findTestSquare(pages) });
}
