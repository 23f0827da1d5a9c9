import { endTangent, pathLength, startTangent } from '../geometry/path';
import { angleBetween } from '../geometry/point';
import { seamClose, seamMatch, seamWarn } from '../geometry/tolerance';
import type { WorkedPiece } from '../operations/worked';
import type { SeamEnd, SeamLink } from '../pattern/garment';
import type { Edge, Piece } from '../pattern/piece';
import type { SeamReport } from './versionReport';

/**
 * Walks a seam on both its edges from their upper ends (the ends away from the hem) and compares lengths, notches and
 * the corner that the two hems make when the seam is sewn. Null when a piece or an edge of the link is missing.
 */
export function walkSeam(link: SeamLink, pieces: readonly WorkedPiece[]): SeamReport | null {
  const first = edgeOf(link.first, pieces);
  const second = edgeOf(link.second, pieces);
  if (first === null || second === null) return null;
  const firstFromStart = upperEndFirst(first) ?? true;
  const secondFromStart = upperEndFirst(second) ?? (sameWay(first, second) ? firstFromStart : !firstFromStart);
  const firstLength = pathLength(first.edge.path);
  const secondLength = pathLength(second.edge.path);
  const difference = firstLength - secondLength - link.ease;
  const firstCorner = hemCorner(first);
  const secondCorner = hemCorner(second);
  const firstNotches = notchesFromTop(first, firstFromStart, firstLength);
  const secondNotches = notchesFromTop(second, secondFromStart, secondLength);
  return {
    link: link.id,
    first: { ...link.first, length: firstLength },
    second: { ...link.second, length: secondLength },
    difference,
    verdict: verdict(difference),
    joinedHemCorner: firstCorner === null || secondCorner === null ? null : firstCorner + secondCorner,
    notchOffsets: firstNotches
      .slice(0, secondNotches.length)
      .map((distance, index) => distance - secondNotches[index]!),
  };
}

function verdict(difference: number): SeamReport['verdict'] {
  const size = Math.abs(difference);
  if (size <= seamMatch) return 'match';
  if (size <= seamClose) return 'close';
  return size <= seamWarn ? 'warn' : 'fail';
}

interface PlacedEdge {
  readonly piece: Piece;
  readonly edge: Edge;
  readonly before: Edge;
  readonly after: Edge;
}

function edgeOf(end: SeamEnd, pieces: readonly WorkedPiece[]): PlacedEdge | null {
  const piece = pieces.find(({ block }) => block.id === end.piece)?.piece;
  const at = piece?.edges.findIndex(({ id }) => id === end.edge) ?? -1;
  if (piece === undefined || at < 0) return null;
  const { edges } = piece;
  return {
    piece,
    edge: edges[at]!,
    before: edges[(at - 1 + edges.length) % edges.length]!,
    after: edges[(at + 1) % edges.length]!,
  };
}

/** Whether the edge starts at its upper end; null when it does not reach a hem and so has no upper end. */
function upperEndFirst({ before, after }: PlacedEdge): boolean | null {
  if (after.role === 'hem') return true;
  return before.role === 'hem' ? false : null;
}

/** Whether two edges without a hem run the same way, told by the edges they lie between. */
function sameWay(first: PlacedEdge, second: PlacedEdge): boolean {
  return first.before.role === second.before.role || first.after.role === second.after.role;
}

/** Inner angle between the seam and the hem it reaches, radians; null when it reaches none. */
function hemCorner({ edge, before, after }: PlacedEdge): number | null {
  if (after.role === 'hem') return innerAngle(edge, after);
  return before.role === 'hem' ? innerAngle(before, edge) : null;
}

/** Inner angle at the corner between two edges of an outline that runs counter-clockwise on screen. */
function innerAngle(arriving: Edge, leaving: Edge): number {
  return Math.PI + angleBetween(endTangent(arriving.path), startTangent(leaving.path));
}

function notchesFromTop({ piece, edge }: PlacedEdge, fromStart: boolean, length: number): number[] {
  return piece.notches
    .filter((notch) => notch.edge === edge.id)
    .map(({ distance }) => (fromStart ? distance : length - distance))
    .sort((a, b) => a - b);
}
