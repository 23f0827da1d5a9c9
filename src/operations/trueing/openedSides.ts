import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { type Point, quarterTurn, scale } from '../../geometry/point';
import { type Path, reversePath } from '../../geometry/segment';
import type { FanStep } from '../../pattern/recipe';
import type { FannedPiece } from '../worked';
import { reverseTraced, type TracedPath } from './tracedPath';

/**
 * The three edges that trueing redraws, always travelled the same way whichever side of the piece the centre lies on:
 * down the centre line, along the hem to the side, up the side seam. `block` holds the same edges of the block.
 */
export interface OpenedSides {
  readonly centre: TracedPath;
  readonly hem: TracedPath;
  readonly side: TracedPath;
  readonly block: { readonly centre: Path; readonly hem: Path; readonly side: Path };
  /** +1 when the travel above is the outline's own direction (centre at the left), -1 when it is the reverse. */
  readonly outward: 1 | -1;
}

/** Finds the edges named by the fan step. Refused when they do not follow one another round the outline. */
export function readSides(fanned: FannedPiece, step: FanStep): Outcome<OpenedSides> {
  const { edges, source } = fanned;
  const find = (id: string) => edges.findIndex((edge) => edge.id === id);
  const centre = find(step.centre);
  const hem = find(step.hem);
  const side = find(step.side);
  if (centre < 0 || hem < 0 || side < 0) {
    return fail(
      'edge-missing',
      `“${source.name}” has lost its centre, hem or side edge. Choose the three edges again in the fan step.`,
    );
  }
  const follows = (first: number, second: number) => (first + 1) % edges.length === second;
  const forward = follows(centre, hem) && follows(hem, side);
  if (!forward && !(follows(side, hem) && follows(hem, centre))) {
    return fail(
      'edges-apart',
      `On “${source.name}” the hem does not run from the centre line to the side seam. Choose edges that meet at the hem corners.`,
    );
  }
  const traced = (index: number) => (forward ? edges[index]!.segments : reverseTraced(edges[index]!.segments));
  const original = (index: number) => (forward ? source.edges[index]!.path : reversePath(source.edges[index]!.path));
  return succeed({
    centre: traced(centre),
    hem: traced(hem),
    side: traced(side),
    block: { centre: original(centre), hem: original(hem), side: original(side) },
    outward: forward ? 1 : -1,
  });
}

/** The direction from the centre line towards the side, square to a direction of travel down the centre line. */
export function towardsSide(down: Point, outward: 1 | -1): Point {
  return scale(quarterTurn(down), -outward);
}

/** The direction of a hem that meets the side seam square, for a direction of travel up the seam. */
export function squareToSeam(up: Point, outward: 1 | -1): Point {
  return scale(quarterTurn(up), outward);
}
