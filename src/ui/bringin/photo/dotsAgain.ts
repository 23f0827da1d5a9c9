import { type Outcome, succeed } from '../../../geometry/outcome';
import { stayPut } from '../../../geometry/rigidMove';
import type { FlatLaid, PictureDraft, PicturePart } from '../../../store/pictureDraft';
import type { FlatShown, ShownDots, StraightPicture } from '../../../workers/photoMessages';
import { askPhotos, type Darkroom, straightPictures } from './askPhotos';
import { fileOf } from './pictureFiles';

/** A picture whose dots are there again; they are to be kept at once when it is laid. */
export interface DotsAgain {
  readonly picture: PictureDraft;
  readonly shown: ReadonlyMap<string, ShownDots>;
}

/**
 * Reads and straightens the files of a picture anew by what is known of it, so that it looks as it did. Nothing is
 * measured or proposed again: places, corners and views are as the maker left them.
 */
export async function dotsAgain(picture: PictureDraft, darkroom: Darkroom): Promise<Outcome<DotsAgain>> {
  const shown = new Map<string, ShownDots>();

  const lay = async (flat: FlatLaid, parts: readonly StraightPicture[]): Promise<Outcome<FlatLaid>> => {
    const joined = await askPhotos<'join'>({ kind: 'join', parts }, darkroom);
    if (!joined.ok) return joined;
    shown.set(flat.id, joined.value.shown);
    return succeed(asLaid(flat.id, joined.value));
  };

  const parts: PicturePart[] = [];
  for (const part of picture.parts) {
    const file = { id: part.id, file: fileOf(part.id) };
    const opened = await askPhotos<'open'>({ kind: 'open', picture: file }, darkroom);
    if (!opened.ok) return opened;
    shown.set(part.id, opened.value.shown);
    if (part.straight === null) {
      parts.push(part);
      continue;
    }
    const own = [{ picture: file, view: part.straight.straightened.view, move: stayPut }];
    const flat = await lay(part.straight.flat, own);
    if (!flat.ok) return flat;
    parts.push({ ...part, straight: { ...part.straight, flat: flat.value } });
  }

  const { flat, stage } = picture;
  const joined = stage === 'outline' ? picture.parts : picture.parts.slice(0, -1);
  const isOwn = parts.find(({ straight }) => straight?.flat.id === flat?.id)?.straight?.flat;
  if (flat === null || isOwn !== undefined || joined.length === 0) {
    return succeed({ picture: { ...picture, parts, flat: isOwn ?? flat }, shown });
  }
  const all = await lay(flat, straightPictures({ ...picture, parts: joined }));
  return all.ok ? succeed({ picture: { ...picture, parts, flat: all.value }, shown }) : all;
}

function asLaid(id: string, { origin, dotsPerMm, width, height }: FlatShown): FlatLaid {
  return { id, origin, dotsPerMm, width, height };
}
