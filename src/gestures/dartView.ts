import { containsPoint, enclosedArea } from '../geometry/area';
import { flattenPath } from '../geometry/flatten';
import { intersectPaths } from '../geometry/intersect';
import { distanceAt, pathLength, subPath } from '../geometry/path';
import { cross, mix, type Point, subtract } from '../geometry/point';
import { movePath, movePoint, type RigidMove, stayPut } from '../geometry/rigidMove';
import { line, type Path } from '../geometry/segment';
import { samePoint } from '../geometry/tolerance';
import { fanCuts } from '../measure/fromDarts';
import type { ClosedDart, FannedPiece, PlacedPanel } from '../operations/worked';

/** A dart closed into the hem as it lies after the fan, mm in the piece's frame. */
export interface DartView {
  readonly closed: ClosedDart;
  /** The wedge it opened, in as many parts as slash lines cut it into. */
  readonly wedge: readonly Path[];
  /** The two sides of the wedge. */
  readonly banks: readonly Path[];
  /** Where its legs meet now, from its point; empty while some of the dart is left. */
  readonly seam: readonly Path[];
  readonly apex: Point;
  /** The two hem corners of the opening. */
  readonly hemCentre: Point;
  readonly hemSide: Point;
  /** How the cloth at the side's hem corner was moved by the fan. */
  readonly move: RigidMove;
}

/** Takes the closed darts of a fanned piece apart for drawing and dragging. */
export function dartViews(fanned: FannedPiece): DartView[] {
  const { closed, panels } = fanned;
  if (closed === null) return [];
  // The cuts of the darts themselves lie on the block, not on the piece that was fanned.
  const slashes = fanCuts(fanned).map(({ path }) => path);
  return closed.darts.map((dart): DartView => {
    const { apex, centreFoot, sideFoot } = dart.wedge;
    const inside = mix(mix(centreFoot, sideFoot, 0.5), apex, 0.5);
    const place = (p: Point) => moveAt(panels, mix(p, inside, 1e-3));
    const carry = (path: Path) => carried(path, inside, slashes, panels);
    const move = place(sideFoot);
    return {
      closed: dart,
      wedge: panels.flatMap((panel) => wedgeOn(panel, [apex, centreFoot, sideFoot])),
      banks: [...carry([line(apex, centreFoot)]), ...carry([line(apex, sideFoot)])],
      seam: dart.seam === null ? [] : carry(dart.seam),
      apex: movePoint(place(apex), apex),
      hemCentre: movePoint(place(centreFoot), centreFoot),
      hemSide: movePoint(move, sideFoot),
      move,
    };
  });
}

function moveAt(panels: readonly PlacedPanel[], p: Point): RigidMove {
  return panels.find(({ boundary }) => containsPoint(boundary, p))?.move ?? stayPut;
}

/** A line carried by the panels it lies on, told by points a little towards `inside`. */
function carried(path: Path, inside: Point, slashes: readonly Path[], panels: readonly PlacedPanel[]): Path[] {
  const places = slashes
    .flatMap((slash) => intersectPaths(path, slash).map(({ segmentA, ta }) => distanceAt(path, segmentA, ta)))
    .sort((a, b) => a - b);
  const ends = [...places, pathLength(path)];
  return ends
    .map((end, index) => subPath(path, index === 0 ? 0 : ends[index - 1]!, end))
    .filter((part) => pathLength(part) > samePoint)
    .map((part) => movePath(moveAt(panels, mix(mix(part[0]!.start, part.at(-1)!.end, 0.5), inside, 1e-3)), part));
}

/** The part of a triangle on a panel, placed (clipping after Sutherland and Hodgman); for drawing. */
function wedgeOn({ boundary, move }: PlacedPanel, corners: readonly [Point, Point, Point]): Path[] {
  const [a, b, c] = corners;
  const turned = cross(subtract(b, a), subtract(c, a)) > 0 ? corners : ([a, c, b] as const);
  let points: Point[] = flattenPath(boundary);
  for (const [index, from] of turned.entries()) {
    const along = subtract(turned[(index + 1) % 3]!, from);
    const depth = (p: Point) => cross(along, subtract(p, from));
    points = points.flatMap((p, at) => {
      const next = points[(at + 1) % points.length]!;
      const [here, there] = [depth(p), depth(next)];
      const met = here * there < 0 ? [mix(p, next, here / (here - there))] : [];
      return here >= 0 ? [p, ...met] : met;
    });
  }
  if (points.length < 3) return [];
  const path = points.map((p, at) => line(p, points[(at + 1) % points.length]!));
  return Math.abs(enclosedArea(path)) < samePoint ? [] : [movePath(move, path)];
}
