import type { WorkedPiece } from '../operations/worked';

/** A seam walked on both its edges, lengths in mm. */
export interface SeamReport {
  readonly link: string;
  readonly first: { readonly piece: string; readonly edge: string; readonly length: number };
  readonly second: { readonly piece: string; readonly edge: string; readonly length: number };
  /** first - second - intended ease */
  readonly difference: number;
  /** match to 1 mm, warn over 1.6 mm, fail over 3.2 mm (ours; anchored on Threads no. 200). */
  readonly verdict: 'match' | 'close' | 'warn' | 'fail';
  /** Angle of the joined hem corner, radians (pi is flat); null when the seam does not reach a hem. */
  readonly joinedHemCorner: number | null;
  /** Offset between the notches of the two edges, measured from the upper end, mm, pair by pair. */
  readonly notchOffsets: readonly number[];
}

/** Everything the slip, the rack and the batch report say about one version (or the block). */
export interface VersionReport {
  /** null for the block. */
  readonly version: string | null;
  readonly pieces: readonly WorkedPiece[];
  readonly seams: readonly SeamReport[];
  /** Whole garment hem sweep, counting cut count and fold, mm. null when no piece has a hem. */
  readonly garmentSweepBefore: number | null;
  readonly garmentSweepAfter: number | null;
}
