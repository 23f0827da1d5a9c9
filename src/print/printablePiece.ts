import type { CutLine } from '../operations/worked';
import type { LengthUnit } from '../pattern/garment';
import type { Piece } from '../pattern/piece';
import type { FinishStep } from '../pattern/recipe';

/** Everything a piece needs to be printed. */
export interface PrintablePiece {
  readonly garment: string;
  /** Name of the version; `Block` for the untouched pieces. */
  readonly version: string;
  /** As it is to be printed. */
  readonly date: string;
  readonly unit: LengthUnit;
  /** A piece on the fold is printed as its half, unless it was opened out (`openedOut`). */
  readonly piece: Piece;
  /** null: the outline is the stitching line and no allowance is drawn. */
  readonly cutLine: CutLine | null;
  readonly finish: FinishStep | null;
  /** True for a piece on the fold that is printed whole. */
  readonly opened?: boolean;
}
