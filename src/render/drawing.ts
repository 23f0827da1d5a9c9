import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';

/** The few colours the table is drawn in, named as the interface names them. */
export const inks = ['table', 'sheet', 'ink', 'ink-soft', 'rule', 'accent', 'accent-wash', 'warn', 'refuse'] as const;
export type Ink = (typeof inks)[number];

/** Lines, mm in the drawing's frame. Width and dashes are CSS pixels, so lines stay hairlines at every zoom. */
export interface Stroke {
  readonly kind: 'stroke';
  readonly paths: readonly Path[];
  readonly ink: Ink;
  readonly width: number;
  readonly dash?: readonly number[];
  readonly alpha?: number;
}

/** Areas, mm. With several paths the even-odd rule leaves out what is enclosed twice. */
export interface Fill {
  readonly kind: 'fill';
  readonly paths: readonly Path[];
  readonly ink: Ink;
  readonly alpha?: number;
}

export type GlyphKind =
  | 'notch-single'
  | 'notch-double'
  | 'drill'
  | 'arrow'
  | 'dot'
  | 'square-corner'
  | 'knob'
  | 'node'
  | 'curve'
  | 'slide'
  | 'ring'
  | 'snap';

/** A sign of fixed size on the screen. */
export interface Glyph {
  readonly kind: GlyphKind;
  readonly at: Point;
  /** Turn from pointing right, radians (x towards y). */
  readonly angle: number;
  readonly ink: Ink;
  readonly state?: 'plain' | 'hovered' | 'selected';
  readonly crowd?: Crowd;
}

/** Of many alike, only those are shown that stand at least this far from the last one shown, CSS pixels. */
export interface Crowd {
  readonly name: string;
  readonly apart: number;
}

/** Words of fixed size on the screen. */
export interface Label {
  readonly at: Point;
  readonly text: string;
  readonly ink: Ink;
  /** CSS pixels. */
  readonly size: number;
  readonly bold?: boolean;
  readonly align: 'left' | 'center' | 'right';
  /** Shift from `at`, CSS pixels right and down. */
  readonly shift?: readonly [number, number];
  /** Not shown when the table is smaller than this, pixels per mm: the words would not fit where they belong. */
  readonly fromZoom?: number;
  /** Not shown from this zoom on, pixels per mm: there is room for fuller words. */
  readonly belowZoom?: number;
  readonly crowd?: Crowd;
}

/** What is drawn for one thing, from below to above. */
export interface Drawing {
  readonly shapes: readonly (Stroke | Fill)[];
  readonly glyphs: readonly Glyph[];
  readonly labels: readonly Label[];
}

/** A drawing being put together. */
export interface Sketch {
  readonly shapes: (Stroke | Fill)[];
  readonly glyphs: Glyph[];
  readonly labels: Label[];
}

export function blankSketch(): Sketch {
  return { shapes: [], glyphs: [], labels: [] };
}

export function stroke(
  paths: readonly Path[],
  ink: Ink,
  width: number,
  more: { readonly dash?: readonly number[]; readonly alpha?: number } = {},
): Stroke {
  return { kind: 'stroke', paths: paths.filter((path) => path.length > 0), ink, width, ...more };
}

export function fill(paths: readonly Path[], ink: Ink, alpha = 1): Fill {
  return { kind: 'fill', paths: paths.filter((path) => path.length > 0), ink, alpha };
}
