import type { SheetFound } from '../exchange/photo/findSheets';
import type { PictureView, Quad } from '../exchange/photo/pictureView';
import type { OutlineFound } from '../exchange/photo/proposeOutline';
import type { Reference, Straightened } from '../exchange/photo/reference';
import type { Point } from '../geometry/point';
import type { RigidMove } from '../geometry/rigidMove';
import type { DrawnOutline } from './drawOutline';

/** A picture file handed in. It goes along with every question, so that a worker that was stopped can read it again. */
export interface PictureFile {
  readonly id: string;
  readonly file: Blob;
}

/** A picture as the page shows it: all its dots, and a smaller one for the table. Both null where nothing is shown. */
export interface ShownDots {
  readonly full: ImageBitmap | null;
  readonly small: ImageBitmap | null;
}

/** A straightened picture of a piece, and where it lies on the common table. */
export interface StraightPicture {
  readonly picture: PictureFile;
  readonly view: PictureView;
  readonly move: RigidMove;
}

export type PhotoAsk =
  | { readonly kind: 'open'; readonly picture: PictureFile }
  | { readonly kind: 'straighten'; readonly picture: PictureFile; readonly reference: Reference }
  | { readonly kind: 'join'; readonly parts: readonly StraightPicture[] }
  | {
      readonly kind: 'outline';
      readonly parts: readonly StraightPicture[];
      /** A place inside the piece, mm on the common table; null to look for the piece. */
      readonly inside: Point | null;
      readonly of: OutlineKind;
      /** Sheets that are not the piece: their four corners on each picture, dots, in the order of `parts`. */
      readonly leaveOut: readonly (Quad | null)[];
    };

export type OutlineKind = 'edge-of-paper' | 'drawn-line';

export interface OpenedPicture {
  readonly kind: 'open';
  readonly width: number;
  readonly height: number;
  /** Dots to the mm as the file states them. */
  readonly stated: { readonly x: number; readonly y: number } | null;
  readonly sheets: readonly SheetFound[];
  readonly shown: ShownDots;
}

export interface FlatShown {
  readonly kind: 'join';
  /** mm: the upper left corner on the table. */
  readonly origin: Point;
  readonly dotsPerMm: number;
  readonly width: number;
  readonly height: number;
  readonly shown: ShownDots;
}

export interface StraightenedPicture {
  readonly kind: 'straighten';
  readonly straightened: Straightened;
  readonly flat: FlatShown;
}

export interface ProposedOutline {
  readonly kind: 'outline';
  /** As it was found, in many small steps. */
  readonly found: OutlineFound;
  readonly drawn: DrawnOutline;
}

export type PhotoAnswer = OpenedPicture | FlatShown | StraightenedPicture | ProposedOutline;

/** What can be moved to the page instead of copied. */
export function movable(answer: PhotoAnswer): Transferable[] {
  const shown = answer.kind === 'straighten' ? answer.flat.shown : answer.kind === 'outline' ? null : answer.shown;
  return shown === null ? [] : [shown.full, shown.small].filter((dots) => dots !== null);
}
