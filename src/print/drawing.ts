import type { Bounds } from '../geometry/bounds';
import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';

/**
 * A page as a list of lines and words, in millimetres from the page's upper left corner, y down. The PDF writer and the
 * preview on screen both draw this list and nothing else, so that they cannot differ.
 */
export interface PageDrawing {
  readonly width: number;
  readonly height: number;
  readonly items: readonly DrawnItem[];
}

export type DrawnItem = DrawnPath | DrawnText | DrawnGroup;

/** Black for what is cut or measured, two greys for what helps. */
export type Tone = 'ink' | 'soft' | 'faint';

export interface LineStyle {
  /** mm; the measure is the middle of the line */
  readonly width: number;
  /** Lengths of dashes and gaps, mm; empty for a solid line. */
  readonly dash: readonly number[];
  readonly tone: Tone;
}

export interface DrawnPath {
  readonly kind: 'path';
  readonly path: Path;
  readonly closed: boolean;
  readonly line: LineStyle | null;
  /** `paper` hides what lies under it. */
  readonly fill: Tone | 'paper' | null;
}

export interface DrawnText {
  readonly kind: 'text';
  readonly text: string;
  /** Where the baseline begins, is centred or ends, as `align` says. */
  readonly at: Point;
  /** Font size (height of the em), mm. */
  readonly size: number;
  readonly align: 'start' | 'middle' | 'end';
  /** Direction of the baseline, radians, positive from x towards y (clockwise on screen). */
  readonly turn: number;
  readonly tone: Tone;
  readonly bold: boolean;
}

/** Items of which only the part inside the box shows. */
export interface DrawnGroup {
  readonly kind: 'group';
  readonly box: Bounds;
  readonly items: readonly DrawnItem[];
}
