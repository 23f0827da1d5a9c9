import type { PictureView, Quad } from './pictureView';

/**
 * What is known to be flat and of known size on the table.
 *
 * `sheet`: a rectangle of paper lying with the piece; `width` (mm) runs along corners 0 to 1, `height` along 1 to 2.
 * Its corners (dots) may be rough; they are refined on its edges. `points`: four marked places of a rectangle, clicked
 * (a ruled mat); nothing is refined. `scan`: a flat scan with known size of a dot in both directions, mm.
 */
export type Reference =
  | { readonly kind: 'sheet'; readonly width: number; readonly height: number; readonly corners: Quad }
  | { readonly kind: 'points'; readonly width: number; readonly height: number; readonly corners: Quad }
  | { readonly kind: 'scan'; readonly mmPerDotX: number; readonly mmPerDotY: number };

/** A picture whose dots have places on the table, and how well. */
export interface Straightened {
  /** Corner 0 of the sheet lies at (0, 0), corner 1 at (width, 0) mm. */
  readonly view: PictureView;
  /** mm, of the rectangle between the corners. */
  readonly size: { readonly width: number; readonly height: number };
  /** The refined corners on the picture as taken, dots. */
  readonly corners: Quad;
  /** The same corners with the lens undone, dots. */
  readonly undone: Quad;
  /**
   * 9 by 9, row by row, of the parameters x0 y0 x1 y1 x2 y2 x3 y3 lens: the four corners with the lens undone (dots,
   * about the same middle as `PictureView`) and the lens term. Read by `expectedError`.
   */
  readonly covariance: readonly number[];
  /**
   * Whether the lens term was read off the picture. If not it is near or at 0, and how far lenses usually leave it is part
   * of the covariance.
   */
  readonly lensKnown: boolean;
  /** Sentences for the maker: what was assumed, what to check. */
  readonly notes: readonly string[];
}
