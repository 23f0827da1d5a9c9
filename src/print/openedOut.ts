import { lineThrough, type MirrorLine, mirrorPath, mirrorPoint, sideOf } from '../geometry/mirror';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathEnd, pathLength, pathStart } from '../geometry/path';
import type { Point } from '../geometry/point';
import { type Path, reversePath } from '../geometry/segment';
import { findEdge } from '../pattern/lookUp';
import type { Edge, Piece } from '../pattern/piece';
import { splitAtFold } from './foldEdges';
import type { PrintablePiece } from './printablePiece';

/** mm. A mark this near to the fold is there once; its mirror image would only cover it. */
const onFoldWithin = 0.01;

/**
 * A piece on the fold opened out into the whole piece, for cutting in a single layer: outline, cut line, hem fold and
 * marks on both sides of the fold, which stays as a line inside with the name of its edge. Nothing is added at the centre.
 * A piece without a fold is given back as it is. Refused where the fold parts its cut line into several runs.
 */
export function openedOut(printable: PrintablePiece): Outcome<PrintablePiece> {
  const { piece, cutLine, finish } = printable;
  const fold = piece.fold === null ? undefined : findEdge(piece, piece.fold);
  const mirror = fold === undefined ? null : lineThrough(pathStart(fold.path), pathEnd(fold.path));
  if (fold === undefined || mirror === null) return succeed(printable);
  const runs = cutLine === null ? [] : splitAtFold(cutLine.path, piece).runs;
  if (cutLine !== null && runs.length !== 1) {
    return fail(
      'fold-parts-cut-line',
      `“${piece.name}” cannot be printed opened out, because its cut line comes to the fold more than once. It is printed as half, to be laid on the fold.`,
    );
  }
  return succeed({
    ...printable,
    opened: true,
    piece: openedPiece(piece, fold, mirror),
    cutLine: cutLine && {
      path: [...runs[0]!, ...overAndBack(runs[0]!, mirror)],
      hemFold: cutLine.hemFold && openedLine(cutLine.hemFold, mirror),
    },
    finish: finish && {
      ...finish,
      byEdge: Object.fromEntries(
        Object.entries(finish.byEdge).flatMap(([id, width]) => [
          [id, width],
          [twinOf(id), width],
        ]),
      ),
    },
  });
}

/** Pieces for the printer, those wanted so opened out; with a sentence for each that cannot be. */
export function openedWhereWanted(
  printables: readonly PrintablePiece[],
  wanted: readonly string[],
): { readonly pieces: readonly PrintablePiece[]; readonly warnings: readonly string[] } {
  const tried = printables.map((printable) => ({
    printable,
    opened: wanted.includes(printable.piece.id) ? openedOut(printable) : succeed(printable),
  }));
  return {
    pieces: tried.map(({ printable, opened }) => (opened.ok ? opened.value : printable)),
    warnings: tried.flatMap(({ opened }) => (opened.ok ? [] : [opened.sentence])),
  };
}

function openedPiece(piece: Piece, fold: Edge, mirror: MirrorLine): Piece {
  const at = piece.edges.indexOf(fold);
  const own = [...piece.edges.slice(at + 1), ...piece.edges.slice(0, at)];
  const twins = own.map((edge): Edge => ({ ...edge, id: twinOf(edge.id), path: overAndBack(edge.path, mirror) }));
  const over = (p: Point) => mirrorPoint(mirror, p);
  const beside = (p: Point) => Math.abs(sideOf(mirror, p)) > onFoldWithin;
  return {
    ...piece,
    fold: null,
    edges: [...own, ...twins.reverse()],
    notches: piece.notches
      .filter(({ edge }) => edge !== fold.id)
      .flatMap((notch) => {
        const length = pathLength(findEdge(piece, notch.edge)?.path ?? []);
        const twin = { ...notch, id: twinOf(notch.id), edge: twinOf(notch.edge), distance: length - notch.distance };
        const onFold = own.some(
          ({ id, path }, i) =>
            id === notch.edge &&
            ((i === 0 && notch.distance < onFoldWithin) ||
              (i === own.length - 1 && pathLength(path) - notch.distance < onFoldWithin)),
        );
        return onFold ? [notch] : [notch, twin];
      }),
    drillHoles: piece.drillHoles.flatMap((hole) =>
      beside(hole.at) ? [hole, { id: twinOf(hole.id), at: over(hole.at) }] : [hole],
    ),
    darts: piece.darts
      .filter(({ edge }) => edge !== fold.id)
      .flatMap((dart) => {
        const legs = [over(dart.legs[1]), over(dart.legs[0])] as const;
        return [dart, { id: twinOf(dart.id), edge: twinOf(dart.edge), apex: over(dart.apex), legs }];
      }),
    internalLines: [
      ...piece.internalLines.flatMap((inner) => [
        inner,
        { ...inner, id: twinOf(inner.id), path: mirrorPath(mirror, inner.path) },
      ]),
      { id: twinOf(fold.id), name: fold.name, path: fold.path },
    ],
  };
}

function twinOf(id: string): string {
  return `${id} on the other side`;
}

function overAndBack(path: Path, mirror: MirrorLine): Path {
  return reversePath(mirrorPath(mirror, path));
}

/** A line that ends or begins at the fold, carried on to the other side. */
function openedLine(path: Path, mirror: MirrorLine): Path {
  const twin = overAndBack(path, mirror);
  const endsThere = Math.abs(sideOf(mirror, pathEnd(path))) < Math.abs(sideOf(mirror, pathStart(path)));
  return endsThere ? [...path, ...twin] : [...twin, ...path];
}
