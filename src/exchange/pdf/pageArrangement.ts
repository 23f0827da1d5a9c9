import type { Point } from '../../geometry/point';

export interface PagePlace {
  /** Number of the page, from 1. */
  readonly page: number;
  /** Where the page's upper left corner lies on the common sheet, mm. */
  readonly at: Point;
}

/** How the pages of a tiled pattern were laid together, and how sure that is. */
export interface PageArrangement {
  readonly places: readonly PagePlace[];
  /**
   * `same-drawing`: the same lines drawn on several pages; `line-ends`: lines cut at one page's border go on at
   * another's; `marks`: match marks at the borders; `labels`: row and column written on the pages; `side-by-side`: nothing found, in reading order.
   */
  readonly how: 'same-drawing' | 'line-ends' | 'marks' | 'labels' | 'side-by-side';
  /** Largest mismatch of any join that was used or closes a circle of pages, mm; 0 for labels and side by side. */
  readonly worst: number;
  /** Numbers of the pages that are joined surely, directly or through others, to the largest sure part of their sheet. */
  readonly joined: readonly number[];
  /** What was done and what is unsure, for the maker. */
  readonly notes: readonly string[];
}

/** The small correction that lets a page dragged by hand meet its neighbours. */
export interface PageSnap {
  /** mm on the common sheet: the page's upper left corner. */
  readonly at: Point;
  /** Lines of the page that meet one of another page there. */
  readonly matches: number;
  /** Largest distance left between two that should meet, mm. */
  readonly worst: number;
}
