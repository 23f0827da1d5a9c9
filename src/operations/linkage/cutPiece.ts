import type { Point } from '../../geometry/point';
import type { Path } from '../../geometry/segment';
import type { Piece } from '../../pattern/piece';
import type { Panel } from './panel';
import type { Cut } from './plan';

/** A cut as made on the piece, block coordinates. */
export interface MadeCut {
  readonly cut: Cut;
  /** From the open end on, through the hinge, to the end. */
  readonly path: Path;
  /** How many segments of the path lie between the open end and the hinge. */
  readonly beforeHinge: number;
  readonly openEnd: Point;
  readonly hinge: Point;
  /** Edges (by index) where the path starts and ends; endEdge is -1 when it ends on another cut. */
  readonly startEdge: number;
  readonly endEdge: number;
}

/** A stretch of one side of a cut, on the panel that has it, ordered from the open end. */
export interface CutSidePart {
  readonly panel: number;
  readonly index: number;
  /** Position on the cut's path: segment number plus parameter, lower and upper end. */
  readonly low: number;
  readonly high: number;
}

/** The piece taken apart. */
export interface CutPiece {
  readonly piece: Piece;
  readonly panels: readonly Panel[];
  /** mm2, by panel. */
  readonly areas: readonly number[];
  /** Whether the panel was taken away, by panel. */
  readonly dropped: readonly boolean[];
  readonly cuts: readonly MadeCut[];
  /** For each cut, the parts of its left and right side. */
  readonly left: readonly (readonly CutSidePart[])[];
  readonly right: readonly (readonly CutSidePart[])[];
}
