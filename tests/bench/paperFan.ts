import paper from 'paper/dist/paper-core';
import type { Point } from '../../src/geometry/point';
import type { Piece } from '../../src/pattern/piece';

export interface PaperCut {
  /** Upper end of the slash line, on the fullness line. */
  readonly hinge: Point;
  /** Its hem end. */
  readonly open: Point;
  readonly degrees: number;
}

export interface PaperTurns {
  /** Where the fullness line is hinged at the side. */
  readonly hinge: Point;
  readonly bottom: number;
  /** From the centre line to the side. */
  readonly cuts: readonly PaperCut[];
}

/** The outline of a piece as a path of the library. */
export function prepare(piece: Piece): paper.Path {
  paper.setup(new paper.Size(10, 10));
  const path = new paper.Path({ insert: false });
  const at = ({ x, y }: Point) => new paper.Point(x, y);
  for (const [index, segment] of piece.edges.flatMap((edge) => edge.path).entries()) {
    if (index === 0) path.moveTo(at(segment.start));
    if (segment.kind === 'line') path.lineTo(at(segment.end));
    else path.cubicCurveTo(at(segment.control1), at(segment.control2), at(segment.end));
  }
  path.closePath();
  return path;
}

/**
 * A fan of vertical slash lines composed from a general library's parts: cut the strips out with boolean operations,
 * turn each about its hinges one after another, unite them with the part above. What someone without a linkage solver
 * would write; the yardstick of `npm run bench`. Answers the cloth it kept, mm2.
 */
export function fanWithPaper(outline: paper.Path, { hinge, bottom, cuts }: PaperTurns): number {
  const bounds = outline.bounds;
  const box = (left: number, top: number, right: number, down: number) =>
    new paper.Path.Rectangle({ from: [left, top], to: [right, down], insert: false });
  let result: paper.PathItem = outline.intersect(box(bounds.left - 10, bounds.top - 10, bounds.right + 10, hinge.y), {
    insert: false,
  });
  const walls = [bounds.left - 10, ...cuts.map((cut) => cut.open.x), bounds.right + 10];
  const total = cuts.reduce((sum, cut) => sum + cut.degrees, 0);
  let area = Math.abs((result as paper.Path).area);
  walls.slice(1).forEach((wall, index) => {
    const strip = outline.intersect(box(walls[index] ?? 0, hinge.y, wall, bottom + 10), { insert: false });
    // The strip turns with everything beyond it: first about its own far hinge, then about the ones after it.
    for (const cut of cuts.slice(index)) strip.rotate(cut.degrees, new paper.Point(cut.hinge.x, cut.hinge.y));
    strip.rotate(-total, new paper.Point(hinge.x, hinge.y));
    area += Math.abs((strip as paper.Path).area);
    result = result.unite(strip, { insert: false });
  });
  return area;
}
