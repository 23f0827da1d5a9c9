import { flattenPath } from '../geometry/flatten';
import { distance, type Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { samePoint } from '../geometry/tolerance';
import type { Piece } from '../pattern/piece';
import { closedShape, stroke } from './draw';
import type { DrawnItem } from './drawing';
import { splitAtFold } from './foldEdges';
import { dartTicks, notchItems } from './notchMarks';
import { dartItems, drillItems, foldItems, grainItems, internalItems, nameAlong } from './pieceMarks';
import type { PrintablePiece } from './printablePiece';
import { cutStyle, hemFoldStyle, seamStyle } from './styles';

/** A piece as it is printed, in its own coordinates, without its label. */
export interface PieceDrawing {
  readonly items: readonly DrawnItem[];
  /** The line to cut along, whole and closed. */
  readonly outer: Path;
  /** The stitching line as points, for finding room inside it. */
  readonly inside: readonly Point[];
}

/**
 * Draws a piece: the cut line solid, the stitching line dashed, the fold and hem fold in chain lines, and all marks.
 * A piece without allowances has its stitching line drawn as the line to cut. A piece on the fold is drawn as its half.
 */
export function drawPiece(printable: PrintablePiece): PieceDrawing {
  const { piece, cutLine } = printable;
  const seamline: Path = piece.edges.flatMap((e) => e.path);
  const outer = cutLine ? cutLine.path : seamline;
  const cut = splitAtFold(outer, piece);
  const items: DrawnItem[] = cut.runs.map((run) => (cut.closed ? closedShape(run, cutStyle) : stroke(run, cutStyle)));
  if (cut.fold) items.push(...foldItems(cut.fold));
  if (cutLine) {
    const seam = splitAtFold(withoutHemFold(piece, cutLine.hemFold), piece);
    items.push(
      ...seam.runs.map((run) =>
        seam.closed && !cutLine.hemFold ? closedShape(run, seamStyle) : stroke(run, seamStyle),
      ),
    );
    if (cutLine.hemFold) {
      items.push(stroke(cutLine.hemFold, hemFoldStyle), ...nameAlong('hem fold', cutLine.hemFold));
    }
  }
  items.push(
    ...internalItems(piece),
    ...dartItems(piece),
    ...dartTicks(piece, cutLine?.path ?? null),
    ...notchItems(piece, cutLine?.path ?? null),
    ...drillItems(piece),
    ...grainItems(piece),
  );
  return { items, outer, inside: flattenPath(seamline, 0.5).slice(0, -1) };
}

/** The stitching line without the edge that is drawn as the hem fold. */
function withoutHemFold(piece: Piece, hemFold: Path | null): Path {
  const folded = (p: Point) => hemFold?.some((s) => distance(s.start, p) < samePoint) ?? false;
  const first = piece.edges.findIndex((e) => e.role === 'hem' && folded(e.path[0]!.start));
  // Begin after the hem, so that the rest is one run.
  const order = [...piece.edges.slice(first + 1), ...piece.edges.slice(0, first + 1)];
  return order.filter((e) => e.role !== 'hem' || !folded(e.path[0]!.start)).flatMap((e) => e.path);
}
