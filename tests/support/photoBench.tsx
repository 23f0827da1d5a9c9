import jpeg from 'jpeg-js';
import type { ReactNode } from 'react';
import type { Picture } from '../../src/exchange/photo/picture';
import { readPictureHeader } from '../../src/exchange/pictureFile';
import { fail, type Outcome, succeed } from '../../src/geometry/outcome';
import { PhotoContext } from '../../src/ui/bringin/photo/photoContext';
import type { PhotoHelper } from '../../src/workers/photoHelper';
import { createPhotoWork, type DecodedPicture } from '../../src/workers/photoWork';

/** Reads a picture file in this process: the same look at its header, another decoder than a browser's. */
async function decode(file: Blob): Promise<Outcome<DecodedPicture>> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const header = readPictureHeader(bytes);
  if (!header.ok) return header;
  const { width, height, data } = jpeg.decode(bytes, { useTArray: true });
  if (width !== header.value.width || height !== header.value.height) return fail('sizes-differ', 'The sizes differ.');
  const picture: Picture = { width, height, data: new Uint8ClampedArray(data.buffer) };
  return succeed({ picture, stated: header.value.dotsPerMm });
}

/** The very work the worker does, without a worker, and with nothing to paint. */
export function photosInProcess(): PhotoHelper {
  const work = createPhotoWork({ decode, show: async () => ({ full: null, small: null }) });
  return {
    ask: (ask, report) => work(ask, report ?? (() => undefined)) as never,
    stop: () => undefined,
  };
}

/** Photos that never come to an end, until they are stopped. */
export function photosWithoutEnd(): PhotoHelper & { readonly stopped: () => boolean } {
  let settle: ((answer: Outcome<never>) => void) | null = null;
  let stopped = false;
  return {
    ask: () =>
      new Promise((resolve) => {
        settle = resolve as never;
      }),
    stop: () => {
      stopped = true;
      settle?.(fail('cancelled', 'Stopped. Nothing was changed.'));
    },
    stopped: () => stopped,
  };
}

export function WithPhotos({ photos, children }: { readonly photos: PhotoHelper; readonly children: ReactNode }) {
  return <PhotoContext value={photos}>{children}</PhotoContext>;
}
