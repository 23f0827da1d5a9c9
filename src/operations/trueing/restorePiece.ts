import { containsPoint } from '../../geometry/area';
import { nearestOnPath } from '../../geometry/nearest';
import { pathLength } from '../../geometry/path';
import type { Point } from '../../geometry/point';
import { movePoint } from '../../geometry/rigidMove';
import type { Path } from '../../geometry/segment';
import { samePoint } from '../../geometry/tolerance';
import type { Edge, InternalLine, Notch, Piece } from '../../pattern/piece';
import type { FannedPiece, WorkedEdge } from '../worked';
import type { DartEdge } from './dartEdges';
import { pathOf } from './tracedPath';

/**
 * An ordinary piece from worked edges and the marks carried by the fan. Notches are measured anew along the edges:
 * on an edge that kept its cloth they stay at their distance; on `heldSeam` they keep their distance from its upper
 * end; on an edge drawn anew where a dart was closed they keep their place along it; elsewhere they take the nearest place.
 */
export function restorePiece(
  fanned: FannedPiece,
  edges: readonly WorkedEdge[],
  heldSeam: { readonly edge: string; readonly upperEndFirst: boolean } | null,
  smoothed: ReadonlyMap<string, DartEdge> = new Map(),
): Piece {
  const { source, marks, panels } = fanned;
  const plain: Edge[] = edges.map(({ id, name, role, segments }) => ({ id, name, role, path: pathOf(segments) }));
  const fold = plain.find(({ id }) => id === source.fold);
  return {
    ...source,
    edges: plain,
    fold: fold !== undefined && fold.path.length === 1 && fold.path[0]!.kind === 'line' ? fold.id : null,
    notches: marks.notches.flatMap((mark): Notch[] => {
      const path = plain.find(({ id }) => id === mark.edge)?.path;
      const original = source.notches.find(({ id }) => id === mark.id);
      const block = source.edges.find(({ id }) => id === mark.edge)?.path;
      if (path === undefined || original === undefined || block === undefined) return [];
      const redrawn = smoothed.get(mark.edge);
      if (redrawn !== undefined) {
        const before = pathOf(fanned.edges.find(({ id }) => id === mark.edge)!.segments);
        const place = redrawn.placeOf(nearestOnPath(before, mark.at).along);
        return [{ id: mark.id, edge: mark.edge, distance: place, style: mark.style }];
      }
      const distance = notchDistance(path, block, mark.at, original.distance, heldSeam?.edge === mark.edge && heldSeam);
      return [{ id: mark.id, edge: mark.edge, distance, style: mark.style }];
    }),
    drillHoles: marks.drillHoles,
    darts: marks.darts,
    internalLines: marks.internalLines.flatMap(({ id, name, paths }) =>
      paths.map((path, index): InternalLine => ({ id: index === 0 ? id : `${id}-${index + 1}`, name, path })),
    ),
    grainline: marks.grainline,
    labelAt: source.labelAt === null ? null : carried(source.labelAt, panels),
  };
}

function notchDistance(
  path: Path,
  block: Path,
  at: Point,
  original: number,
  held: false | { readonly upperEndFirst: boolean },
): number {
  const length = pathLength(path);
  const before = pathLength(block);
  if (held) return Math.max(held.upperEndFirst ? original : original + length - before, 0);
  if (path.length === block.length && Math.abs(length - before) <= samePoint) return original;
  return nearestOnPath(path, at).along;
}

/** A point carried by the panel that holds it. */
function carried(p: Point, panels: FannedPiece['panels']): Point {
  const panel = panels.find(({ boundary }) => containsPoint(boundary, p));
  return panel === undefined ? p : movePoint(panel.move, p);
}
