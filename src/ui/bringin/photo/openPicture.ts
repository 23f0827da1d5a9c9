import { type Outcome, succeed } from '../../../geometry/outcome';
import type { AppStore } from '../../../store/appCommands';
import type { BringInStore } from '../../../store/bringIn';
import { newId } from '../../../store/newId';
import { type PicturePart, startPicture } from '../../../store/pictureDraft';
import type { PhotoHelper } from '../../../workers/photoHelper';
import type { OpenedPicture } from '../../../workers/photoMessages';
import { nameFromFile } from '../nameFromFile';
import { preferredUnit } from '../preferredUnit';
import { askPhotos, type Darkroom, keepShown } from './askPhotos';
import { guessBeside, middleOf, sheetLying } from './beside';
import { sharedPhotos } from './photoContext';
import { keepFile } from './pictureFiles';
import { watchPicture } from './watchPicture';

/** Opens a photograph or scan and lays it on the table. What is refused or stopped leaves everything as it was. */
export async function openPicture(
  file: File,
  store: AppStore,
  bringIn: BringInStore,
  photos: PhotoHelper = sharedPhotos,
): Promise<Outcome<null>> {
  const read = await readPart(file, { bringIn, photos });
  if (!read.ok) return read;
  const { part, opened } = read.value;
  if (store.getState().garment === null) store.commands.newGarment(nameFromFile(file.name), preferredUnit());
  store.actions.goTo('bring-in');
  store.actions.pickTool('hand');
  bringIn.actions.layDraft(null);
  bringIn.actions.layPages(null);
  keepFile(part.id, file);
  keepShown(part.id, opened.shown);
  bringIn.actions.layPicture(startPicture(part));
  watchPicture(store, { bringIn, photos });
  return succeed(null);
}

/** Opens a further picture of the piece on the table; it goes through the same questions by itself. */
export async function addPicture(file: File, darkroom: Darkroom): Promise<Outcome<null>> {
  const read = await readPart(file, darkroom);
  if (!read.ok) return read;
  const { part, opened } = read.value;
  keepFile(part.id, file);
  keepShown(part.id, opened.shown);
  darkroom.bringIn.actions.changePicture((picture) => ({
    ...picture,
    stage: 'corners',
    parts: [...picture.parts, part],
    chosen: null,
    tape: null,
    pairs: [],
  }));
  return succeed(null);
}

async function readPart(
  file: File,
  darkroom: Darkroom,
): Promise<Outcome<{ readonly part: PicturePart; readonly opened: OpenedPicture }>> {
  const id = newId();
  const opened = await askPhotos<'open'>({ kind: 'open', picture: { id, file } }, darkroom);
  if (!opened.ok) return opened;
  const { width, height, stated, sheets } = opened.value;
  const corners = middleOf({ width, height });
  const { beside, corners: found } = guessBeside(sheets, stated) ?? { beside: sheetLying('a4', corners), corners };
  const part = { id, source: file.name, width, height, stated, sheets, beside, corners: found, straight: null };
  return succeed({ part, opened: opened.value });
}
