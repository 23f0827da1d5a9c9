import type { Picture } from '../exchange/photo/picture';
import { readPictureHeader } from '../exchange/pictureFile';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import type { Report } from './messages';
import type { ShownDots } from './photoMessages';
import type { DecodedPicture } from './photoWork';

/** Longer side of the picture as the table shows it, dots; more would not be seen and slows drawing down. */
const longestShown = 2200;

/** Dots of the picture that the magnifier looks into; a larger one would fill a tablet's memory. */
const mostMagnified = 16e6;

/**
 * Reads a picture file by the browser's own decoder, turned the way it was taken. What the file says of itself is looked
 * at first, so that nothing too large is ever unpacked.
 */
export async function decodePicture(file: Blob, report: Report): Promise<Outcome<DecodedPicture>> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const header = readPictureHeader(bytes);
  if (!header.ok) return header;
  report({ share: 0.15, doing: 'Unpacking the picture' });
  const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image', colorSpaceConversion: 'none' }).catch(
    () => null,
  );
  if (bitmap === null) {
    return fail(
      'picture-damaged',
      'This picture is damaged, or of a kind this browser cannot show. Save it as JPEG or PNG and try again.',
    );
  }
  const { width, height } = bitmap;
  const canvas = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (canvas === null) {
    bitmap.close();
    return fail(
      'picture-no-room',
      'There is not enough memory for this picture. Close other tabs, or save it smaller.',
    );
  }
  // What is see-through lies on white paper.
  canvas.fillStyle = '#fff';
  canvas.fillRect(0, 0, width, height);
  canvas.drawImage(bitmap, 0, 0);
  bitmap.close();
  const picture: Picture = { width, height, data: canvas.getImageData(0, 0, width, height).data };
  return succeed({ picture, stated: header.value.dotsPerMm });
}

/** The picture as the page shows it: whole, and small for the table. */
export async function showPicture({ width, height, data }: Picture): Promise<ShownDots> {
  const dots = new ImageData(data as Uint8ClampedArray<ArrayBuffer>, width, height);
  const full = await createImageBitmap(dots, sizeFor(Math.min(1, Math.sqrt(mostMagnified / (width * height)))));
  const scale = Math.min(1, longestShown / Math.max(width, height));
  return { full, small: await createImageBitmap(full, sizeFor(scale)) };

  function sizeFor(share: number): ImageBitmapOptions {
    if (share === 1) return {};
    return {
      resizeWidth: Math.max(1, Math.round(width * share)),
      resizeHeight: Math.max(1, Math.round(height * share)),
      resizeQuality: 'high',
    };
  }
}
