import type { Picture } from '../exchange/photo/picture';
import type { PictureView } from '../exchange/photo/pictureView';
import type { Point } from '../geometry/point';

/** How a flat picture sees the table. */
export function scaleOnly(picture: Pick<Picture, 'width' | 'height'>, origin: Point, dotsPerMm: number): PictureView {
  const mm = 1 / dotsPerMm;
  const { width, height } = picture;
  return { width, height, lens: 0, homography: [mm, 0, origin.x, 0, mm, origin.y, 0, 0, 1] };
}
