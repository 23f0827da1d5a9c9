import { createContext, use } from 'react';
import { createPhotoHelper, type PhotoHelper } from '../../../workers/photoHelper';
import { useBringInStore } from '../../storeContext';
import type { Darkroom } from './askPhotos';

/** One for the whole page; its worker starts when it is first asked something. */
export const sharedPhotos = createPhotoHelper();

export const PhotoContext = createContext<PhotoHelper>(sharedPhotos);

/** What pictures are worked on with. */
export function useDarkroom(): Darkroom {
  const photos = use(PhotoContext);
  const bringIn = useBringInStore();
  return { photos, bringIn };
}
