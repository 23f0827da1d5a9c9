import type { Bounds } from '../../geometry/bounds';
import type { DrawnShape } from '../drawing/drawingReading';
import type { PlacedText } from '../drawing/nearText';

/** One line or outline of a page; mm from the page's upper left corner, y down. */
export interface PdfShape extends DrawnShape {
  /** mm; 0 for a filled shape without a stroke. */
  readonly lineWidth: number;
  /** Only an area of colour, no drawn line. */
  readonly filled: boolean;
  /** The part of the page it can be seen in, mm: the page's edges and the windows (clips) round it. Null when none of it is seen. */
  readonly seen: Bounds | null;
}

/** A picture (photograph or scan) lying on a page. */
export interface PdfPicture {
  /** mm from the page's upper left corner. */
  readonly box: Bounds;
  /** Share of the page it covers, 0 to 1. */
  readonly share: number;
}

/** One page as it is meant to be looked at: crop box, rotation and unit of the page are worked in. */
export interface PdfPage {
  /** Counted from 1. */
  readonly number: number;
  /** mm */
  readonly width: number;
  /** mm */
  readonly height: number;
  readonly shapes: readonly PdfShape[];
  readonly texts: readonly PlacedText[];
  readonly pictures: readonly PdfPicture[];
  /** The page is a picture: there are no lines worth reading on it. Read it with `rasterPage`. */
  readonly rasterOnly: boolean;
}

export interface PdfReading {
  readonly pages: readonly PdfPage[];
  /** What was passed over, for the maker. */
  readonly warnings: readonly string[];
}

/** How far the reading has come: `share` from 0 to 1, `doing` in words for the maker. */
export type PdfReport = (progress: { readonly share: number; readonly doing: string }) => void;
