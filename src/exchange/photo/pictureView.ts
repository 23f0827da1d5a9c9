import type { Point } from '../../geometry/point';

/** Nine numbers row by row: x' = (h0 x + h1 y + h2) / (h6 x + h7 y + h8), y' = (h3 x + h4 y + h5) / (h6 x + h7 y + h8). */
export type Homography = readonly [number, number, number, number, number, number, number, number, number];

/**
 * How a picture sees a flat table: from places on the picture (dots) to places on the table (mm). The lens is undone
 * first, about the middle of the picture, p' = middle + (p - middle)(1 + lens r^2), with r the distance from the middle
 * in half diagonals of the picture; then the homography is applied. A scanner is the same with lens 0 and a homography
 * that only scales.
 */
export interface PictureView {
  readonly width: number;
  readonly height: number;
  /** 0 for a lens that draws straight lines straight; positive when it bulges them outward (barrel). */
  readonly lens: number;
  readonly homography: Homography;
}

/** Four places in order round a rectangle: upper left, upper right, lower right, lower left as the rectangle lies. */
export type Quad = readonly [Point, Point, Point, Point];
