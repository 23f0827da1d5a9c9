import { findSheets } from '../exchange/photo/findSheets';
import { type FlatPicture, joinFlat, type PictureOnTable } from '../exchange/photo/flatPicture';
import type { Picture } from '../exchange/photo/picture';
import type { Quad } from '../exchange/photo/pictureView';
import { proposeOutline } from '../exchange/photo/proposeOutline';
import { straighten } from '../exchange/photo/straighten';
import { toPicture, toTable } from '../exchange/photo/viewPoint';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import type { Point } from '../geometry/point';
import { invert, movePath, movePoint, stayPut } from '../geometry/rigidMove';
import { drawOutline } from './drawOutline';
import { joinedPart, mostDots } from './flatPart';
import type { Report } from './messages';
import type { FlatShown, PhotoAnswer, PhotoAsk, PictureFile, ShownDots, StraightPicture } from './photoMessages';
import { scaleOnly } from './scaleOnly';

/** A picture file turned into dots, the right way up. */
export interface DecodedPicture {
  readonly picture: Picture;
  readonly stated: { readonly x: number; readonly y: number } | null;
}

/** What only the place where this runs can do. */
export interface PhotoTools {
  decode(file: Blob, report: Report): Promise<Outcome<DecodedPicture>>;
  show(picture: Picture): Promise<ShownDots>;
}

/**
 * All the heavy work on pictures, one question after the other. Pictures already read are remembered, at most as many as
 * were asked about together.
 */
export function createPhotoWork(tools: PhotoTools): (ask: PhotoAsk, report: Report) => Promise<Outcome<PhotoAnswer>> {
  let known = new Map<string, DecodedPicture>();

  async function read(files: readonly PictureFile[], report: Report): Promise<Outcome<readonly DecodedPicture[]>> {
    const wanted = new Map<string, DecodedPicture>();
    for (const { id, file } of files) {
      const before = known.get(id) ?? wanted.get(id);
      const decoded: Outcome<DecodedPicture> =
        before === undefined ? await tools.decode(file, report) : succeed(before);
      if (!decoded.ok) return decoded;
      wanted.set(id, decoded.value);
    }
    known = wanted;
    return succeed(files.map(({ id }) => wanted.get(id)!));
  }

  async function flat(parts: readonly { picture: Picture; part: StraightPicture }[]): Promise<FlatShown> {
    const views = parts.map(({ picture, part }) => ({ picture, view: part.view, move: part.move }));
    const { picture, origin, dotsPerMm } = joined(views, mostDots.shown);
    const { width, height } = picture;
    return { kind: 'join', origin, dotsPerMm, width, height, shown: await tools.show(picture) };
  }

  return async (ask, report) => {
    const files = 'parts' in ask ? ask.parts.map(({ picture }) => picture) : [ask.picture];
    report({ share: 0.05, doing: 'Reading the picture' });
    const decoded = await read(files, report);
    if (!decoded.ok) return decoded;
    const [first] = decoded.value;
    if (first === undefined) return fail('no-picture', 'There is no picture to work on. Open one first.');

    switch (ask.kind) {
      case 'open': {
        report({ share: 0.5, doing: 'Looking for a sheet beside the piece' });
        const sheets = findSheets(first.picture);
        report({ share: 0.9, doing: 'Laying the picture on the table' });
        const { width, height } = first.picture;
        const shown = await tools.show(first.picture);
        return succeed({ kind: 'open', width, height, stated: first.stated, sheets, shown });
      }
      case 'straighten': {
        report({ share: 0.3, doing: 'Measuring the sheet' });
        const straightened = straighten(first.picture, ask.reference);
        if (!straightened.ok) return straightened;
        report({ share: 0.5, doing: 'Straightening the picture' });
        const part = { picture: ask.picture, view: straightened.value.view, move: stayPut };
        const laid = await flat([{ picture: first.picture, part }]);
        return succeed({ kind: 'straighten', straightened: straightened.value, flat: laid });
      }
      case 'join': {
        report({ share: 0.5, doing: 'Joining the pictures' });
        return succeed(await flat(ask.parts.map((part, i) => ({ picture: decoded.value[i]!.picture, part }))));
      }
      case 'outline': {
        report({ share: 0.4, doing: 'Following the outline' });
        const { picture, view, leaveOut, move } = outlineBase(ask, decoded.value);
        const at = ask.inside === null ? null : toPicture(view, movePoint(invert(move), ask.inside));
        const found = proposeOutline(picture, view, { at, kind: ask.of, leaveOut });
        if (!found.ok) return found;
        report({ share: 0.9, doing: 'Drawing it with few curves' });
        const path = movePath(move, found.value.path);
        return succeed({ kind: 'outline', found: { ...found.value, path }, drawn: drawOutline(path) });
      }
    }
  };
}

/** One picture as it was taken, which is sharpest; several as one joined flat picture. */
function outlineBase(ask: Extract<PhotoAsk, { kind: 'outline' }>, decoded: readonly DecodedPicture[]) {
  if (ask.parts.length === 1) {
    const [sheet] = ask.leaveOut;
    const { view, move } = ask.parts[0]!;
    return { picture: decoded[0]!.picture, view, leaveOut: sheet == null ? [] : [sheet], move };
  }
  const views = ask.parts.map(({ view, move }, i) => ({ picture: decoded[i]!.picture, view, move }));
  const all = joined(views, mostDots.measured);
  const view = scaleOnly(all.picture, all.origin, all.dotsPerMm);
  const leaveOut = ask.leaveOut.flatMap((sheet, i): Quad[] => {
    if (sheet === null) return [];
    const { view: seen, move } = ask.parts[i]!;
    const there = (corner: Point) => toPicture(view, movePoint(move, toTable(seen, corner)));
    return [[there(sheet[0]), there(sheet[1]), there(sheet[2]), there(sheet[3])]];
  });
  return { picture: all.picture, view, leaveOut, move: stayPut };
}

function joined(views: readonly PictureOnTable[], most: number): FlatPicture {
  const { part, dotsPerMm } = joinedPart(views, most);
  return joinFlat(views, part, dotsPerMm);
}
