import { fail, type Outcome, succeed } from '../../../geometry/outcome';
import { type PictureDraft, withPart } from '../../../store/pictureDraft';
import { sizedByFile } from '../openScan';
import { pagePicture } from '../pages/pagePicture';
import type { Workshop } from '../watched';
import type { Darkroom } from './askPhotos';
import { addPicture } from './openPicture';
import { fileOf } from './pictureFiles';

/** Lays a page of the book down as a further picture, or in place of the one that came last. */
export async function layPage(
  picture: PictureDraft,
  page: number,
  how: 'further' | 'instead',
  darkroom: Darkroom,
  { reader }: Pick<Workshop, 'reader'>,
): Promise<Outcome<null>> {
  const { book } = picture;
  const bytes =
    book === undefined
      ? null
      : await fileOf(book.id)
          .arrayBuffer()
          .catch(() => null);
  if (book === undefined || bytes === null || bytes.byteLength === 0) {
    return fail('picture-gone', 'The file is not at hand any more. Open it again.');
  }
  const { bringIn } = darkroom;
  const scan = await pagePicture(new Uint8Array(bytes), book.source, page, { bringIn, reader });
  if (!scan.ok) return scan;
  const added = await addPicture(scan.value.file, darkroom);
  if (!added.ok) return added;
  bringIn.actions.changePicture((now) => {
    const laid = withPart(now, (part) => sizedByFile(part, scan.value));
    return how === 'further' ? laid : { ...laid, parts: [...laid.parts.slice(0, -2), laid.parts.at(-1)!] };
  });
  return succeed(null);
}
