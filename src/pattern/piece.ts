import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';

/**
 * A pattern piece: a closed outline of named edges with its marks. Plain readonly data, millimetres, y down.
 *
 * The outline runs counter-clockwise as seen on screen, edge after edge, each edge starting exactly where the
 * one before it ends and the last ending where the first starts. It is the stitching line (net outline);
 * allowances are added by finishing.
 */
export interface Piece {
  readonly id: string;
  readonly name: string;
  /** The size it was drawn in, as the maker writes it: `12`, `M`, `38 to 40`; null where none is given. */
  readonly size: string | null;
  readonly edges: readonly Edge[];
  readonly notches: readonly Notch[];
  readonly grainline: Grainline | null;
  /** Id of the edge that lies on the fabric fold, if any. It must be one straight line. */
  readonly fold: string | null;
  readonly drillHoles: readonly DrillHole[];
  readonly darts: readonly Dart[];
  readonly internalLines: readonly InternalLine[];
  /** Where the piece label is anchored; null lets the printer choose. */
  readonly labelAt: Point | null;
  /** How many to cut from fabric; a piece on the fold counts once when unfolded. */
  readonly cutCount: number;
}

/** What an edge is on the garment, in the trade's words. */
export const edgeRoles = [
  'centre-front',
  'centre-back',
  'hem',
  'side',
  'waist',
  'armhole',
  'shoulder',
  'neckline',
  'sleeve-head',
  'underarm',
  'other',
] as const;
export type EdgeRole = (typeof edgeRoles)[number];

export interface Edge {
  readonly id: string;
  readonly name: string;
  readonly role: EdgeRole;
  readonly path: Path;
}

/** Single marks the front, double the back (University of Arkansas apparel production workbook). */
export type NotchStyle = 'single' | 'double';

export interface Notch {
  readonly id: string;
  /** Id of the edge it sits on. */
  readonly edge: string;
  /** Distance along the edge from the edge's start, mm. */
  readonly distance: number;
  readonly style: NotchStyle;
}

export interface Grainline {
  readonly start: Point;
  readonly end: Point;
}

export interface DrillHole {
  readonly id: string;
  readonly at: Point;
}

export interface Dart {
  readonly id: string;
  /** Id of the edge that holds the dart mouth; the outline runs straight across the mouth. */
  readonly edge: string;
  readonly apex: Point;
  /** The two points on the edge, in the direction of the outline. */
  readonly legs: readonly [Point, Point];
}

export interface InternalLine {
  readonly id: string;
  readonly name: string;
  readonly path: Path;
}
