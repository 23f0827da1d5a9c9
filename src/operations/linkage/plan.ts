import type { Point } from '../../geometry/point';
import type { Path } from '../../geometry/segment';
import type { CentreRule } from '../../pattern/recipe';

/**
 * How a piece is cut and opened: the cuts in the order they are made, what each does, and which panel stays.
 * Block coordinates, mm, radians, y down. "Left" and "right" of a cut are as seen on screen when walking from its
 * open end to its hinge.
 */
export interface SpreadPlan {
  /** Edge id whose length is the sweep. */
  readonly hem: string;
  /** A point on the panel that does not move. */
  readonly fixed: Point;
  readonly cuts: readonly Cut[];
  readonly sideTurns: readonly SideTurn[];
}

export interface Cut {
  readonly id: string;
  /** What the maker calls it, for sentences: `slash line 2`, `the fullness line`. */
  readonly name: string;
  /** Edge id where the cut starts: its open end, unless both ends open. */
  readonly from: string;
  readonly to: CutTarget;
  readonly course: CutCourse;
  /** A place on the cut that stays joined; null is the end of the cut. Cloth beyond it must be dropped. */
  readonly hinge: Point | null;
  /** A point on the part that this cut frees and takes away (the wedge of a dart); null keeps everything. */
  readonly drop: Point | null;
  readonly opening: CutOpening;
}

/** Where a cut ends. */
export type CutTarget =
  | { readonly kind: 'edge'; readonly edge: string }
  | { readonly kind: 'cut'; readonly cut: string }
  /** The first edge the cut meets, whichever it is, but none of these. */
  | { readonly kind: 'any-edge'; readonly except: readonly string[] };

export type CutCourse =
  /** Along a straight line, from the place on the `from` edge nearest to `through`, into the piece. */
  | { readonly kind: 'line'; readonly through: Point; readonly direction: Point }
  /** Along a drawn path from the `from` edge to the target. */
  | { readonly kind: 'path'; readonly path: Path };

export type CutOpening =
  /** Straight distance between the two open ends, mm; negative overlaps. */
  | { readonly kind: 'chord'; readonly width: number }
  /** Distance along the arc that the open end travels about the hinge, mm; negative overlaps. */
  | { readonly kind: 'arc'; readonly length: number }
  /** The turn itself, radians; negative overlaps. */
  | { readonly kind: 'angle'; readonly angle: number }
  /** Both ends open, as a symmetric gap: straight distances at the end (far) and at the start (near), mm. */
  | { readonly kind: 'unequal'; readonly far: number; readonly near: number }
  /** As much as closing this fraction of a dart gives; the legs are on the outline and the hinge is the apex. */
  | { readonly kind: 'dart'; readonly legs: readonly [Point, Point]; readonly fraction: number }
  /** Whatever keeps the panel at `panel` where the rule says it belongs. */
  | CentreOpening
  /** The cut does not open. */
  | { readonly kind: 'none' };

export interface CentreOpening {
  readonly kind: 'centre';
  readonly rule: CentreRule;
  /** A point on the panel at the centre line. */
  readonly panel: Point;
  /** The centre line. */
  readonly line: { readonly through: Point; readonly direction: Point };
  /** Where hem and centre line meet. */
  readonly corner: Point;
}

/** A side edge turned outward about a hinge on it, from the hinge down to the hem. */
export interface SideTurn {
  /** Edge id; it must meet the hem. */
  readonly edge: string;
  readonly hinge: Point;
  readonly opening:
    | { readonly kind: 'chord'; readonly width: number }
    | { readonly kind: 'angle'; readonly angle: number };
}
