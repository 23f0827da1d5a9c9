import type { Point } from '../../geometry/point';
import type { Path } from '../../geometry/segment';

/** One outline or line found in a drawing. Coordinates in the drawing's own units (`DrawingReading`) or mm (`ScaledReading`). */
export interface DrawnShape {
  /** Unique within the reading: `shape-1`, `shape-2` ... in drawing order. */
  readonly id: string;
  readonly path: Path;
  readonly closed: boolean;
  /** Dash pattern as written, e.g. `4 2`; null for a solid line. Sizes are often told apart by it. */
  readonly strokeDash: string | null;
  /** Stroke colour as written, or the fill where there is no stroke; null when neither is said. */
  readonly colour: string | null;
  /** Width of the stroke in the drawing's units; absent where the file does not say. */
  readonly lineWidth?: number;
  /** Only an area of colour, no drawn line; absent where the file does not tell the two apart. */
  readonly filled?: boolean;
  /** Name of the layer or nearest named group. */
  readonly layer: string | null;
  /** Name the file gives the shape itself (title, label or id). */
  readonly name: string | null;
  /** Text inside or close by, to be offered as the piece's name. */
  readonly nearText: string | null;
}

export interface ScaleSuggestion {
  readonly label: string;
  readonly mmPerUnit: number;
}

export type DrawingScale =
  /** The file states its size in a physical unit. `source` says how that was read. */
  | { readonly kind: 'certain'; readonly mmPerUnit: number; readonly source: string }
  /** It does not: one known length is needed. Suggestions are offered, never chosen for the maker. */
  | { readonly kind: 'ask'; readonly sentence: string; readonly suggestions: readonly ScaleSuggestion[] };

/** A mark some files keep apart from the lines, with the id of the shape (the piece's outline) it belongs to. */
export type DrawnMark =
  | { readonly kind: 'notch' | 'drill'; readonly at: Point; readonly shape: string }
  | { readonly kind: 'grain'; readonly from: Point; readonly to: Point; readonly shape: string };

export interface DrawingReading {
  readonly shapes: readonly DrawnShape[];
  readonly scale: DrawingScale;
  readonly warnings: readonly string[];
  /** Marks the file itself tells apart from lines; absent where it knows none. */
  readonly marks?: readonly DrawnMark[];
}
