/**
 * A picture in memory: rows from the top, four bytes a dot (red, green, blue, opacity).
 *
 * Places on a picture are in dots: (0, 0) is the upper left corner of the picture, the middle of the first dot is
 * (0.5, 0.5). Plain data, so that it can be handed to a worker.
 */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** width * height * 4 bytes. */
  readonly data: Uint8ClampedArray;
}
