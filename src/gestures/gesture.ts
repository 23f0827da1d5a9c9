import type { Outcome } from '../geometry/outcome';
import type { Garment } from '../pattern/garment';
import type { AppCommands, Mode } from '../store/appCommands';
import type { Camera, Selection } from '../store/appState';
import type { BringInDraft, DraftCorner, PenDraft } from '../store/bringIn';
import type { PagesDraft } from '../store/pagesDraft';
import type { PictureDraft } from '../store/pictureDraft';
import type { ScreenPoint, TablePoint } from './frames';
import type { PointerKind } from './reach';

/** A pointer as the reducers see it, free of the DOM. */
export interface PointerSample {
  readonly id: number;
  readonly kind: PointerKind;
  readonly at: ScreenPoint;
  /** Which button a press or release is about: 0 main, 1 middle, 2 other. */
  readonly button: number;
  /** Alt or Option suspends snapping. */
  readonly alt: boolean;
  readonly shift: boolean;
  /** Larger side of the contact, CSS pixels; 0 when unknown. */
  readonly contact: number;
  /** Milliseconds on any steady clock. */
  readonly time: number;
}

export type TableEvent =
  | { readonly type: 'press' | 'move' | 'release' | 'cancel' | 'leave'; readonly pointer: PointerSample }
  | {
      readonly type: 'wheel';
      readonly at: ScreenPoint;
      /** CSS pixels scrolled. */
      readonly across: number;
      readonly down: number;
      /** Ctrl or Command held, or a trackpad pinch. */
      readonly zoom: boolean;
    }
  | { readonly type: 'key'; readonly key: string; readonly shift: boolean }
  | { readonly type: 'space'; readonly held: boolean };

export type Cursor = 'default' | 'grab' | 'grabbing' | 'pointer' | 'crosshair' | 'move' | 'ew-resize' | 'ns-resize';

/** Something drawn on the overlay while the pointer is about. */
export type Mark =
  | { readonly kind: 'snap'; readonly at: TablePoint; readonly word: string }
  | { readonly kind: 'guide'; readonly from: TablePoint; readonly to: TablePoint }
  | { readonly kind: 'measure'; readonly from: TablePoint; readonly to: TablePoint; readonly text: string }
  | { readonly kind: 'label'; readonly at: TablePoint; readonly text: string };

/**
 * A command to give the store, shown live with 'preview' and made an undo step with 'commit'. The store applies it to
 * the committed document, so a drag recomputes press + whole delta every frame.
 */
export type Order = (commands: AppCommands, mode: Mode) => Outcome<Garment>;

/** What the table does after an event. Absent members leave things as they are; `preview: null` drops the preview. */
export interface Effects {
  readonly preview?: Order | null;
  readonly commit?: Order;
  readonly camera?: Camera;
  readonly select?: Selection | null;
  readonly pickPiece?: string;
  readonly pen?: PenDraft;
  readonly layDraft?: BringInDraft;
  readonly corners?: readonly DraftCorner[];
  /** What was done to the corners once it is done, and how they lay before; absent while it goes on. */
  readonly cornersDone?: { readonly what: string; readonly before: readonly DraftCorner[] };
  readonly chooseShape?: string;
  readonly measureScale?: { readonly from: TablePoint; readonly to: TablePoint };
  /** The pages on the table, with one of them moved. */
  readonly pages?: PagesDraft;
  /** The picture on the table, with a place marked or moved. */
  readonly picture?: PictureDraft;
  readonly marks?: readonly Mark[];
  readonly cursor?: Cursor;
  readonly hint?: string | null;
}

/** Answer of one gesture's reducer; a null state ends the gesture. */
export interface Step<State> extends Effects {
  readonly state: State | null;
}
