import { enclosedArea } from '../geometry/area';
import { type Path, reversePath } from '../geometry/segment';
import { type OutlineCorner, proposeCorners } from './cornerProposal';
import { smoothOutline } from './smoothOutline';

/** A closed line of a drawing as the outline of a piece, counter-clockwise as seen on screen. */
export interface RedrawnOutline {
  readonly path: Path;
  readonly corners: readonly OutlineCorner[];
  /** How far few smooth curves leave the drawn steps, for the maker; null where every line is as it was drawn. */
  readonly note: string | null;
}

/** Finds the corners of a closed line; a trace of many small steps is drawn with few smooth curves. */
export function redrawOutline(drawn: Path): RedrawnOutline {
  const path = enclosedArea(drawn) < 0 ? reversePath(drawn) : drawn;
  const corners = proposeCorners(path);
  const smoothed = smoothOutline(path, corners);
  const changed = smoothed.segmentsAfter < smoothed.segmentsBefore;
  return {
    path: changed ? smoothed.path : path,
    corners: changed ? smoothed.corners : corners,
    note: changed || smoothed.roughEdges > 0 ? smoothed.sentence : null,
  };
}
