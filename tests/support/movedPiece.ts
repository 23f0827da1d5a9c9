import { movePath, movePoint, type RigidMove } from '../../src/geometry/rigidMove';
import type { Piece } from '../../src/pattern/piece';

/** The piece turned and shifted, with all its marks. */
export function movedPiece(piece: Piece, move: RigidMove): Piece {
  return {
    ...piece,
    edges: piece.edges.map((edge) => ({ ...edge, path: movePath(move, edge.path) })),
    grainline: piece.grainline && {
      start: movePoint(move, piece.grainline.start),
      end: movePoint(move, piece.grainline.end),
    },
    drillHoles: piece.drillHoles.map((hole) => ({ ...hole, at: movePoint(move, hole.at) })),
    darts: piece.darts.map((dart) => ({
      ...dart,
      apex: movePoint(move, dart.apex),
      legs: [movePoint(move, dart.legs[0]), movePoint(move, dart.legs[1])],
    })),
    internalLines: piece.internalLines.map((one) => ({ ...one, path: movePath(move, one.path) })),
    labelAt: piece.labelAt && movePoint(move, piece.labelAt),
  };
}
