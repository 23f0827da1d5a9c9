import { pathLength } from '../../../src/geometry/path';
import type { Point } from '../../../src/geometry/point';
import { type Path, reversePath, type Segment } from '../../../src/geometry/segment';
import type { BlockPiece } from '../../../src/pattern/garment';

/**
 * The piece mirrored so that its x = 0 comes to x = `axis` and it lies to the left of it. The outline is turned round
 * again, so that it keeps running counter-clockwise; notches keep their places on the cloth.
 */
export function mirrorPiece(piece: BlockPiece, axis: number): BlockPiece {
  const flip = (p: Point): Point => ({ x: axis - p.x, y: p.y });
  const flipSegment = (segment: Segment): Segment =>
    segment.kind === 'line'
      ? { kind: 'line', start: flip(segment.start), end: flip(segment.end) }
      : {
          kind: 'cubic',
          start: flip(segment.start),
          control1: flip(segment.control1),
          control2: flip(segment.control2),
          end: flip(segment.end),
        };
  const flipPath = (path: Path) => reversePath(path.map(flipSegment));
  const length = (edge: string) => pathLength(piece.edges.find((candidate) => candidate.id === edge)!.path);
  return {
    ...piece,
    // The hem stays first: reversing the order of edges puts it last.
    edges: [piece.edges[0]!, ...piece.edges.slice(1).reverse()].map((edge) => ({ ...edge, path: flipPath(edge.path) })),
    notches: piece.notches.map((notch) => ({ ...notch, distance: length(notch.edge) - notch.distance })),
    grainline: piece.grainline && { start: flip(piece.grainline.start), end: flip(piece.grainline.end) },
    drillHoles: piece.drillHoles.map((hole) => ({ ...hole, at: flip(hole.at) })),
    darts: piece.darts.map((dart) => ({
      ...dart,
      apex: flip(dart.apex),
      legs: [flip(dart.legs[1]), flip(dart.legs[0])],
    })),
    internalLines: piece.internalLines.map((line) => ({ ...line, path: line.path.map(flipSegment) })),
    labelAt: piece.labelAt && flip(piece.labelAt),
  };
}
