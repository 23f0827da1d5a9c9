import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import type { AppStore } from '../../store/appCommands';
import { isClear, type Lying } from '../../store/unfinishedForm';
import type { ShownDots } from '../../workers/photoMessages';
import { type Darkroom, keepShown } from './photo/askPhotos';
import { dotsAgain } from './photo/dotsAgain';
import { sharedPhotos } from './photo/photoContext';
import { forgetFiles, keepFile } from './photo/pictureFiles';
import { watchPicture } from './photo/watchPicture';

/**
 * Lays the table as the maker left it. Pictures are read and straightened again in the background, with progress and a
 * stop. Fails with `cancelled` when stopped, `table-taken` when something else came to lie there meanwhile, and with the
 * worker's own failure when a file cannot be read any more; the table is then as it was.
 */
export async function layAgain(
  lying: Lying,
  files: ReadonlyMap<string, Blob>,
  store: AppStore,
  darkroom: Pick<Darkroom, 'bringIn'> & Partial<Darkroom>,
): Promise<Outcome<null>> {
  const { bringIn, photos = sharedPhotos } = darkroom;
  const garment = store.getState().garment?.id;
  for (const [id, file] of files) keepFile(id, file);
  const refuse = (failure: Failure): Failure => {
    forgetFiles(files.keys());
    return failure;
  };
  const shown = new Map<string, ShownDots>();
  let { picture, underlay } = lying;
  if (picture !== null) {
    const read = await dotsAgain(picture, { bringIn, photos });
    if (!read.ok) return refuse(read);
    picture = read.value.picture;
    for (const [id, dots] of read.value.shown) shown.set(id, dots);
  }
  if (underlay !== null) {
    const read = await dotsAgain(underlay.picture, { bringIn, photos });
    if (!read.ok) return refuse(read);
    underlay = { ...underlay, picture: read.value.picture, flat: read.value.picture.flat ?? underlay.flat };
    for (const [id, dots] of read.value.shown) shown.set(id, dots);
  }
  if (store.getState().garment?.id !== garment || !isClear(bringIn.getState())) {
    return refuse(fail('table-taken', 'Something else lies on the table by now.'));
  }
  for (const [id, dots] of shown) keepShown(id, dots);
  bringIn.actions.layAgain({ ...lying, picture, underlay });
  if (picture !== null || underlay !== null) watchPicture(store, { bringIn, photos });
  if (lying.pen.nodes.length > 0) {
    store.actions.goTo('bring-in');
    store.actions.pickTool('pen');
  }
  return succeed(null);
}
