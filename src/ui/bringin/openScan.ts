import type { Outcome } from '../../geometry/outcome';
import type { AppStore } from '../../store/appCommands';
import { withPart } from '../../store/pictureDraft';
import type { Scan } from './laid';
import { openPicture } from './photo/openPicture';
import type { Workshop } from './watched';

/** Opens a picture whose size the file around it states; it is shown to the maker, who may say otherwise. */
export async function openScan(scan: Scan, store: AppStore, { bringIn }: Workshop): Promise<Outcome<null>> {
  const opened = await openPicture(scan.file, store, bringIn);
  if (!opened.ok) return opened;
  const { across, down } = scan;
  bringIn.actions.changePicture((picture) =>
    withPart(picture, (part) => ({ ...part, corners: [], beside: { kind: 'scan', across, down } })),
  );
  return opened;
}
