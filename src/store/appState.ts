import type { Outcome } from '../geometry/outcome';
import type { Point } from '../geometry/point';
import type { Step } from '../history/history';
import type { VersionReport } from '../measure/versionReport';
import type { Garment } from '../pattern/garment';

/** The stations of the path, in the maker's order. */
export const places = ['bring-in', 'mark', 'fan', 'true', 'finish', 'print'] as const;
export type Place = (typeof places)[number];

/** What a press on the table does. `hand` works on whatever handle lies under it; the rest draw or place something. */
export type Tool = 'hand' | 'pen' | 'corner' | 'notch' | 'grain' | 'drill' | 'dart' | 'measure';

/** Where the table is looked at from: model point at the middle of the view, and screen pixels per mm. Never undone. */
export interface Camera {
  readonly centre: Point;
  readonly pixelsPerMm: number;
}

export type Selection =
  | { readonly kind: 'slash'; readonly piece: string; readonly slash: string }
  | { readonly kind: 'opening'; readonly piece: string; readonly slash: string }
  | { readonly kind: 'fullness-line'; readonly piece: string }
  /** The hem corner of the wedge that a closed dart opens. */
  | { readonly kind: 'dart-opening'; readonly piece: string; readonly dart: string }
  | { readonly kind: 'hem-handle'; readonly piece: string; readonly end: 'centre' | 'side' }
  | { readonly kind: 'edge'; readonly piece: string; readonly edge: string }
  | { readonly kind: 'hem-drop'; readonly piece: string; readonly end: 'centre' | 'side' }
  /** An end of the blended stretch of the side seam, above or below the hinge. */
  | { readonly kind: 'blend'; readonly piece: string; readonly end: 'up' | 'down' }
  | { readonly kind: 'notch'; readonly piece: string; readonly notch: string }
  | { readonly kind: 'drill-hole'; readonly piece: string; readonly hole: string }
  /** A dart being marked: its point, or an end of its mouth. */
  | {
      readonly kind: 'dart-end';
      readonly piece: string;
      readonly dart: string;
      readonly end: 'apex' | 'first' | 'second';
    }
  | { readonly kind: 'grain-end'; readonly piece: string; readonly end: 'start' | 'end' }
  /** Outline node at the start of a segment; `handle` names one of its curve handles instead of the node itself. */
  | {
      readonly kind: 'node';
      readonly piece: string;
      readonly edge: string;
      readonly segment: number;
      readonly handle?: 'in' | 'out';
    };

export interface Notice {
  readonly tone: 'done' | 'warning' | 'refused';
  readonly sentence: string;
}

/** One undo step. */
export type Commit = Step<Garment>;

export interface AppState {
  /** The committed document; null on the first screen. */
  readonly garment: Garment | null;
  /** The document while a drag or a half-typed number is live. Always computes without failure. */
  readonly preview: Garment | null;
  readonly past: readonly Commit[];
  readonly future: readonly Commit[];
  readonly place: Place;
  readonly tool: Tool;
  readonly activePiece: string | null;
  /** null: the block itself is on the table. */
  readonly activeVersion: string | null;
  /** A version id, or `block`, drawn faintly under the piece; null for none. */
  readonly ghost: string | null;
  readonly selection: Selection | null;
  readonly camera: Camera;
  readonly notice: Notice | null;
  /** One line that says what the press under the pointer would do. */
  readonly hint: string | null;
  readonly saved: 'saved' | 'saving' | 'failed';
}

/** Changes the document; must be pure. Returning the same object means nothing changed; a failure refuses the change. */
export type Change = (garment: Garment) => Garment | Outcome<Garment>;

export interface AppActions {
  /** The only way to alter the document. Refused, with the last good state kept, when the change breaks a rule or its recipe cannot be worked. */
  commit(label: string, change: Change): Outcome<Garment>;
  /** Shows press-time document + whole change; refused previews keep the last good one and set the notice. */
  showPreview(change: Change): Outcome<Garment>;
  dropPreview(): void;
  undo(): void;
  redo(): void;
  openGarment(garment: Garment): void;
  closeGarment(): void;
  goTo(place: Place): void;
  pickTool(tool: Tool): void;
  pickPiece(piece: string): void;
  takeDown(version: string | null): void;
  layGhost(version: string | null): void;
  select(selection: Selection | null): void;
  look(camera: Camera): void;
  notify(notice: Notice | null): void;
  setHint(hint: string | null): void;
  markSaved(saved: AppState['saved']): void;
}

/** What the table and the slip read: the shown document (preview or committed) and the worked active version. */
export interface Shown {
  readonly garment: Garment;
  readonly report: VersionReport;
}
