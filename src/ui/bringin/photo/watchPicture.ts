import type { AppStore } from '../../../store/appCommands';
import type { Darkroom } from './askPhotos';
import { forgetFiles } from './pictureFiles';

/** A picture goes with its garment, and what is remembered of it goes with the picture. */
export function watchPicture(store: AppStore, { bringIn, photos }: Darkroom): void {
  const stopFollowing = store.subscribe(({ garment }) => {
    if (garment !== null) return;
    stopFollowing();
    bringIn.actions.layPicture(null);
  });
  // The worker forgets while no picture is worked on, the files are let go once none lies anywhere.
  const stop = bringIn.subscribe(({ picture, underlay }, before) => {
    if (picture === null && before.picture !== null) photos.stop();
    if (picture !== null || underlay !== null) return;
    stop();
    forgetFiles();
  });
}
