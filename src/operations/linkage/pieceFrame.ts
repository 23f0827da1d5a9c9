import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { pathEnd, pathPointAt, pathStart } from '../../geometry/path';
import { add, distance, dot, type Point, quarterTurn, scale, subtract, unit } from '../../geometry/point';
import { type Path, reversePath } from '../../geometry/segment';
import { besideEdge } from '../../geometry/tolerance';
import type { Edge, Piece } from '../../pattern/piece';

/** How a piece lies, so that it can be fanned whichever way round it was traced. Millimetres, unit vectors. */
export interface PieceFrame {
  readonly centre: Edge;
  readonly hem: Edge;
  readonly side: Edge;
  /** Where centre line and hem meet. */
  readonly centreCorner: Point;
  /** The centre edge travelled up from the hem. */
  readonly centreUp: Path;
  /** Where side and hem meet. */
  readonly sideCorner: Point;
  /** The side seam travelled down, from its upper end to the hem. */
  readonly sideDown: Path;
  /** Along the centre line, away from the hem. */
  readonly up: Point;
  /** Square to the centre line, towards the side. */
  readonly across: Point;
}

/** Finds the frame of a piece from three of its edges. */
export function frameOf(
  piece: Piece,
  ids: { readonly centre: string; readonly hem: string; readonly side: string },
): Outcome<PieceFrame> {
  const found = [ids.centre, ids.hem, ids.side].map((wanted) => piece.edges.find(({ id }) => id === wanted));
  const [centre, hem, side] = found;
  if (centre === undefined || hem === undefined || side === undefined) {
    const missing = [ids.centre, ids.hem, ids.side][found.indexOf(undefined)];
    return fail(
      'unknown-edge',
      `${piece.name} has no edge "${missing}". Choose its centre line, hem and side seam again.`,
    );
  }
  if (centre === hem || hem === side || centre === side) {
    return fail('edges-not-distinct', 'The centre line, the hem and the side seam must be three different edges.');
  }
  const hemEnds = [pathStart(hem.path), pathEnd(hem.path)];
  const centreUp = startingNear(centre.path, hemEnds);
  const sideUp = startingNear(side.path, hemEnds);
  const centreCorner = pathStart(centreUp);
  const sideCorner = pathStart(sideUp);
  const up = unit(subtract(pathEnd(centreUp), centreCorner));
  const towardsSide = dot(quarterTurn(up), subtract(sideCorner, centreCorner));
  if (towardsSide === 0) {
    return fail('no-width', 'The side seam starts on the centre line, so there is nothing to fan. Check the edges.');
  }
  return succeed({
    centre,
    hem,
    side,
    centreCorner,
    centreUp,
    sideCorner,
    sideDown: reversePath(sideUp),
    up,
    across: scale(quarterTurn(up), towardsSide > 0 ? 1 : -1),
  });
}

/** The path turned round if need be, so that it starts at its end nearer to one of the points. */
function startingNear(path: Path, points: readonly Point[]): Path {
  const reach = (p: Point) => Math.min(...points.map((q) => distance(p, q)));
  return reach(pathStart(path)) <= reach(pathEnd(path)) ? path : reversePath(path);
}

/** A point just inside the centre edge, `height` mm up from the hem: it names the part at the centre line there. */
export function besideCentre({ centreUp, across }: PieceFrame, height: number): Point {
  const { point, tangent } = pathPointAt(centreUp, height);
  const square = quarterTurn(tangent);
  return add(point, scale(square, dot(square, across) > 0 ? besideEdge : -besideEdge));
}
