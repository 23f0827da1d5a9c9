import type { Outcome } from '../../geometry/outcome';
import type { AppStore } from '../../store/appCommands';
import { type PicturePart, withPart } from '../../store/pictureDraft';
import type { Scan } from './laid';
import { openPicture } from './photo/openPicture';
import { keepFile } from './photo/pictureFiles';
import type { Workshop } from './watched';

/** Opens a picture whose size the file around it states; it is shown to the maker, who may say otherwise. */
export async function openScan(scan: Scan, store: AppStore, { bringIn }: Workshop): Promise<Outcome<null>> {
  const opened = await openPicture(scan.file, store, bringIn);
  if (!opened.ok) return opened;
  bringIn.actions.changePicture((picture) => withPart(picture, (part) => sizedByFile(part, scan)));
  if (scan.book !== undefined) {
    const { file, ...book } = scan.book;
    keepFile(book.id, file);
    bringIn.actions.changePicture((picture) => ({ ...picture, book }));
  }
  return opened;
}

/** The picture as a scan of the size that its file states. */
export function sizedByFile(part: PicturePart, { page, across, down }: Omit<Scan, 'file'>): PicturePart {
  return { ...part, page, corners: [], beside: { kind: 'scan', across, down } };
}
