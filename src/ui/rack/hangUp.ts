import { type Bounds, pathBounds } from '../../geometry/bounds';
import type { VersionReport } from '../../measure/versionReport';
import type { Piece } from '../../pattern/piece';

/** What the rack shows of the block (null) or a version. */
export interface Hanging {
  readonly version: string | null;
  readonly pieces: readonly { readonly piece: Piece; readonly bounds: Bounds }[];
  /** Hem sweep of the whole garment, mm; null when it has no hem. */
  readonly sweep: number | null;
}

export function hangUp(version: string | null, report: VersionReport): Hanging {
  return {
    version,
    pieces: report.pieces.map(({ piece }) => ({
      piece,
      bounds: pathBounds(piece.edges.flatMap((edge) => edge.path)),
    })),
    sweep: report.garmentSweepAfter,
  };
}

/** Height and width a hanging may take on the rack, screen pixels. */
const room = { height: 62, width: 180 };

/** Pixels per mm, one for the whole rack, so that sizes can be compared by eye. */
export function rackScale(hangings: readonly Hanging[]): number {
  let tallest = 1;
  let widest = 1;
  for (const { pieces } of hangings) {
    for (const { bounds } of pieces) tallest = Math.max(tallest, bounds.maxY - bounds.minY);
    widest = Math.max(
      widest,
      pieces.reduce((sum, { bounds }) => sum + bounds.maxX - bounds.minX, 0),
    );
  }
  return Math.min(room.height / tallest, room.width / widest);
}
