import type { Outcome } from '../../../geometry/outcome';
import { keepPixels } from '../../../render/pixels';
import type { BringInStore } from '../../../store/bringIn';
import { newId } from '../../../store/newId';
import type { FlatLaid, PictureDraft } from '../../../store/pictureDraft';
import type { PhotoHelper } from '../../../workers/photoHelper';
import type { FlatShown, PhotoAnswer, PhotoAsk, ShownDots, StraightPicture } from '../../../workers/photoMessages';
import { fileOf } from './pictureFiles';

export interface Darkroom {
  readonly bringIn: BringInStore;
  readonly photos: PhotoHelper;
}

/** Has something done in the background, with its progress shown and a way to stop it. A second one stops the first. */
export async function askPhotos<Kind extends PhotoAsk['kind']>(
  ask: Extract<PhotoAsk, { readonly kind: Kind }>,
  { bringIn, photos }: Darkroom,
): Promise<Outcome<Extract<PhotoAnswer, { readonly kind: Kind }>>> {
  bringIn.getState().work?.stop();
  const stop = () => photos.stop();
  bringIn.actions.showWork({ doing: 'Reading the picture', share: null, stop });
  const answer = await photos.ask<Kind>(ask, ({ doing, share }) => {
    if (bringIn.getState().work?.stop === stop) bringIn.actions.showWork({ doing, share, stop });
  });
  if (bringIn.getState().work?.stop === stop) bringIn.actions.showWork(null);
  return answer;
}

/** Keeps the dots for the table to paint; must be followed at once by laying the picture with this id. */
export function keepShown(id: string, { small, full }: ShownDots): void {
  if (small !== null && full !== null) keepPixels(id, small, full);
}

/** A flat picture that came back, ready to be laid. */
export function layFlat({ origin, dotsPerMm, width, height, shown }: FlatShown): FlatLaid {
  const id = newId();
  keepShown(id, shown);
  return { id, origin, dotsPerMm, width, height };
}

/** The straightened pictures as the worker wants them. */
export function straightPictures({ parts }: PictureDraft): readonly StraightPicture[] {
  return parts.flatMap(({ id, straight }) =>
    straight === null
      ? []
      : [{ picture: { id, file: fileOf(id) }, view: straight.straightened.view, move: straight.move }],
  );
}
