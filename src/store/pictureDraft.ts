import type { SheetFound } from '../exchange/photo/findSheets';
import type { Quad } from '../exchange/photo/pictureView';
import type { Reference, Straightened } from '../exchange/photo/reference';
import type { Bounds } from '../geometry/bounds';
import type { Point } from '../geometry/point';
import type { RigidMove } from '../geometry/rigidMove';

/**
 * Pictures of a piece on their way to an outline. Places only; the dots themselves are kept elsewhere, by id. Until a
 * picture is straightened it lies on the table with its dots taken as mm; from then on in true mm.
 */
export interface PictureDraft {
  readonly stage: PictureStage;
  /** One or more pictures of one piece, in the order they came; the last is the one being worked on. */
  readonly parts: readonly PicturePart[];
  /** Id of the place that keys move and the magnifier shows; null for none. */
  readonly chosen: string | null;
  /** The known length being measured on the straightened picture, mm on the table. */
  readonly tape: Tape | null;
  /** Places seen on what is joined so far and on the last picture, to lay them together. */
  readonly pairs: readonly SharedPlace[];
  /** What the outline is taken from: the straightened picture, or several joined. */
  readonly flat: FlatLaid | null;
  /** How well several pictures lie together, for the maker. */
  readonly joinNote: string | null;
  /** A place inside the piece, mm; null until the maker has pressed there. */
  readonly inside: Point | null;
  /** The file whose pages are pictures, where they come from one; absent for pictures of their own. */
  readonly book?: PictureBook;
}

/** A file of several pages that are only pictures. */
export interface PictureBook {
  /** Id that its file is kept under. */
  readonly id: string;
  /** File name. */
  readonly source: string;
  /** Numbers of its pages, in order. */
  readonly pages: readonly number[];
}

/** Corners of the sheet; a second length; places shared with an earlier picture; the outline. */
export type PictureStage = 'corners' | 'check' | 'join' | 'outline';

export interface PicturePart {
  readonly id: string;
  /** File name. */
  readonly source: string;
  /** Its page in the book that the pictures come from; absent for pictures of their own. */
  readonly page?: number;
  /** Dots. */
  readonly width: number;
  readonly height: number;
  /** Dots to the mm in both directions as the file states them; null where it does not. Offered, never taken. */
  readonly stated: { readonly x: number; readonly y: number } | null;
  /** Four-cornered things that may be the sheet, best first. */
  readonly sheets: readonly SheetFound[];
  readonly beside: Beside;
  /** Corners of the sheet or mat on the picture, dots, in order round it; fewer than four while they are being clicked. */
  readonly corners: readonly Point[];
  readonly straight: StraightPart | null;
}

/** What lies flat beside the piece. Lengths in mm, along corners 1 to 2 and 2 to 3; 0 where not said yet. */
export type Beside =
  | { readonly kind: 'a4' | 'letter' | 'other' | 'mat'; readonly width: number; readonly height: number }
  /** Dots to the mm, across and down. */
  | { readonly kind: 'scan'; readonly across: number; readonly down: number };

export interface StraightPart {
  readonly reference: Reference;
  readonly straightened: Straightened;
  readonly flat: FlatLaid;
  /** From its own table to the common one. */
  readonly move: RigidMove;
  /** What agreed, for the maker; empty when nothing was checked. */
  readonly checks: readonly string[];
}

/** A straightened picture on the table. */
export interface FlatLaid {
  /** Id of its dots. */
  readonly id: string;
  /** mm: its upper left corner. */
  readonly origin: Point;
  readonly dotsPerMm: number;
  /** Dots. */
  readonly width: number;
  readonly height: number;
}

export interface Tape {
  readonly from: Point;
  readonly to: Point;
}

/** The same spot of the piece on both pictures, table mm; null where it is still to be marked. */
export interface SharedPlace {
  readonly first: Point | null;
  readonly second: Point | null;
}

/** Picture of a piece that lies under it until it is locked, mm in the piece's own frame. */
export interface Underlay {
  readonly flat: FlatLaid;
  readonly piece: string;
  /** All that is known of it, so that a further piece can be taken from it. */
  readonly picture: PictureDraft;
}

/** Something on a picture that can be dragged, or moved by keys. */
export interface Spot {
  readonly id: string;
  /** mm on the table. */
  readonly at: Point;
  /** `Corner 1 of the sheet`. */
  readonly name: string;
}

export function partNow(picture: PictureDraft): PicturePart {
  return picture.parts[picture.parts.length - 1]!;
}

/** The picture with its last part changed. */
export function withPart(picture: PictureDraft, change: (part: PicturePart) => PicturePart): PictureDraft {
  return { ...picture, parts: [...picture.parts.slice(0, -1), change(partNow(picture))] };
}

export function startPicture(part: PicturePart): PictureDraft {
  return {
    stage: 'corners',
    parts: [part],
    chosen: null,
    tape: null,
    pairs: [],
    flat: null,
    joinNote: null,
    inside: null,
  };
}

/** Room between two pictures laid beside each other, mm. */
const gapBetween = 40;

/** Where the last picture lies while it is joined to the earlier ones: to their right, tops level; mm to add. */
export function besideShift(picture: PictureDraft): Point {
  const first = picture.flat;
  const second = partNow(picture).straight?.flat;
  if (first === null || second === undefined) return { x: 0, y: 0 };
  const left = flatBounds(first);
  return { x: left.maxX + gapBetween - second.origin.x, y: left.minY - second.origin.y };
}

export function flatBounds({ origin, width, height, dotsPerMm }: FlatLaid): Bounds {
  return {
    minX: origin.x,
    minY: origin.y,
    maxX: origin.x + width / dotsPerMm,
    maxY: origin.y + height / dotsPerMm,
  };
}

/** What is laid out on the table, mm. */
export function pictureBounds(picture: PictureDraft): Bounds {
  const part = partNow(picture);
  const flat = picture.stage === 'outline' ? picture.flat : part.straight?.flat;
  if (picture.stage === 'corners' || flat == null) return { minX: 0, minY: 0, maxX: part.width, maxY: part.height };
  const own = flatBounds(flat);
  if (picture.stage !== 'join' || picture.flat === null) return own;
  const shift = besideShift(picture);
  const first = flatBounds(picture.flat);
  return {
    minX: first.minX,
    minY: Math.min(first.minY, own.minY + shift.y),
    maxX: own.maxX + shift.x,
    maxY: Math.max(first.maxY, own.maxY + shift.y),
  };
}

/** Whether a mm on the table is a mm of the piece by now. */
export function isTrueSize(picture: PictureDraft): boolean {
  return picture.stage !== 'corners';
}

/** Pages of the book that do not lie here yet, beginning behind the one that came last. */
export function pagesWaiting(picture: PictureDraft): readonly number[] {
  const last = partNow(picture).page ?? 0;
  const waiting = (picture.book?.pages ?? []).filter((number) => !picture.parts.some(({ page }) => page === number));
  return [...waiting.filter((number) => number > last), ...waiting.filter((number) => number < last)];
}

/** The four corners once all are there. */
export function quadOf({ corners }: PicturePart): Quad | null {
  const [a, b, c, d] = corners;
  return a === undefined || b === undefined || c === undefined || d === undefined ? null : [a, b, c, d];
}

/** Ids of all pictures whose dots are still needed. */
export function picturesNeeded(state: {
  readonly picture: PictureDraft | null;
  readonly underlay: Underlay | null;
}): ReadonlySet<string> {
  const laid = [state.picture, state.underlay?.picture ?? null].filter((picture) => picture !== null);
  const ids = laid.flatMap(({ parts, flat }) => [
    ...parts.flatMap(({ id, straight }) => [id, straight?.flat.id]),
    flat?.id,
  ]);
  return new Set(ids.filter((id) => id !== undefined));
}

/** How the pictures came to their true size, in sentences for the maker. */
export function saidOf({ parts, joinNote }: PictureDraft): readonly string[] {
  const said = parts.flatMap(({ straight }, index) => {
    if (straight === null) return [];
    const { checks } = straight;
    const which = parts.length === 1 ? '' : `Picture ${index + 1}. `;
    const sentences = checks.length > 0 ? checks : ['The size was not checked against a second length.'];
    return sentences.map((sentence) => `${which}${sentence}`);
  });
  return joinNote === null ? said : [...said, joinNote];
}
