import type { PageArrangement, PagePlace, PageSnap } from '../exchange/pdf/pageArrangement';
import type { PdfPage } from '../exchange/pdf/pdfReading';
import type { TestSquare } from '../exchange/pdf/testSquare';
import { type Bounds, noBounds, unionBounds } from '../geometry/bounds';

export type { PagePlace, PageSnap, PdfPage };

/** The pages of a pattern printed in parts, on the table to be laid together. Lengths in mm. */
export interface PagesDraft {
  /** A name of its own for the file that was read. */
  readonly book: string;
  /** File name. */
  readonly source: string;
  readonly pages: readonly PdfPage[];
  /** Where each page lies on the table, the last uppermost; pages that are left out keep their place. */
  readonly places: readonly PagePlace[];
  /** Numbers of the pages that are not used. */
  readonly leftOut: readonly number[];
  /** The room they take; it stays as it is while one of them is dragged. */
  readonly frame: Bounds;
  /** How Hingeline laid them. */
  readonly arranged: PageArrangement;
  /** A square drawn in the file to check its size with; null where none was found. */
  readonly square: TestSquare | null;
  readonly warnings: readonly string[];
}

/** The room that the used pages take, mm; an A4 sheet's where none is used. */
export function pagesFrame({ pages, places, leftOut }: Pick<PagesDraft, 'pages' | 'places' | 'leftOut'>): Bounds {
  let all = noBounds;
  for (const { page, at } of places) {
    const size = pages.find(({ number }) => number === page);
    if (size === undefined || leftOut.includes(page)) continue;
    all = unionBounds(all, { minX: at.x, minY: at.y, maxX: at.x + size.width, maxY: at.y + size.height });
  }
  return all.minX > all.maxX ? { minX: 0, minY: 0, maxX: 210, maxY: 297 } : all;
}
