import { nearestOnPath } from '../geometry/nearest';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { addDart, type DartPlaces } from './addDart';
import { findEdge } from './lookUp';
import type { Dart, Piece } from './piece';

/** Where a dart lies now: mm along its edge, and its point. null when its edge is gone. */
export function placesOf(piece: Piece, dart: Dart): DartPlaces | null {
  const edge = findEdge(piece, dart.edge);
  if (edge === undefined) return null;
  const [from, to] = dart.legs.map((leg) => nearestOnPath(edge.path, leg).along) as [number, number];
  return { edge: edge.id, from, to, apex: dart.apex };
}

/**
 * The piece with one of its darts laid elsewhere; it keeps its id and its place in the list. Where its mouth lay the edge
 * stays as straight as it was drawn for it. Refused as `addDart` refuses, and `dart-unknown`.
 */
export function moveDart<P extends Piece>(piece: P, id: string, places: DartPlaces): Outcome<P> {
  if (!piece.darts.some((dart) => dart.id === id)) return fail('dart-unknown', 'This dart is not there any more.');
  const others = { ...piece, darts: piece.darts.filter((dart) => dart.id !== id) };
  const laid = addDart(others, id, places);
  if (!laid.ok) return laid;
  const moved = laid.value.darts.at(-1)!;
  return succeed({ ...laid.value, darts: piece.darts.map((dart) => (dart.id === id ? moved : dart)) });
}
