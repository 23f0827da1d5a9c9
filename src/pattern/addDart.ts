import { containsPoint } from '../geometry/area';
import { intersectPaths } from '../geometry/intersect';
import { nearestOnPath } from '../geometry/nearest';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathEnd, pathLength, pathStart, splitPathAt } from '../geometry/path';
import { distance, type Point } from '../geometry/point';
import { line, type Path, segmentPointAt } from '../geometry/segment';
import { dartMouthBow, markOnEdge, narrowestDart } from '../geometry/tolerance';
import { findEdge } from './lookUp';
import { nameInSentence } from './nameInSentence';
import type { Dart, Edge, Piece } from './piece';

/** Where a dart is to lie: two places on one edge (mm along it, in either order) and its point. */
export interface DartPlaces {
  readonly edge: string;
  readonly from: number;
  readonly to: number;
  readonly apex: Point;
}

/**
 * The piece with one more dart. The outline runs straight across its mouth afterwards, and the notches beyond it keep
 * their places. Refused: a mouth that is too narrow, bows too much, overlaps another or lies on the fold, a point from
 * which a leg would leave the piece, and one whose legs would cross another dart's.
 */
export function addDart<P extends Piece>(piece: P, id: string, places: DartPlaces): Outcome<P> {
  const edge = findEdge(piece, places.edge);
  if (!edge) return fail('dart-edge-unknown', 'That edge is not part of the piece any more.');
  const name = nameInSentence(edge.name);
  if (edge.id === piece.fold) return fail('dart-on-fold', 'A dart cannot open on the fold, where the cloth goes on.');
  const whole = pathLength(edge.path);
  const from = Math.max(0, Math.min(places.from, places.to));
  const to = Math.min(whole, Math.max(places.from, places.to));
  const tooNarrow = fail('dart-too-narrow', `Set the two legs at least ${narrowestDart} mm apart.`);
  if (!(to - from >= narrowestDart)) return tooNarrow;
  const [head, rest] = splitPathAt(edge.path, from);
  const [mouth, tail] = splitPathAt(rest, to - from);
  const [first, second] = [pathStart(mouth), pathEnd(mouth)];
  const width = distance(first, second);
  if (!(width >= narrowestDart)) return tooNarrow;
  const bow = mouthBow(mouth, [first, second]);
  if (bow > dartMouthBow) {
    return fail('dart-mouth-bent', `The ${name} bends too much between the two legs. Set them nearer together.`);
  }
  if (overlaps(piece, edge, from, to)) {
    return fail('dart-overlaps', `Another dart opens there on the ${name}. Set the legs beside it.`);
  }
  const straight = bow > markOnEdge;
  const path = straight ? [...head, line(first, second), ...tail] : edge.path;
  const shift = straight ? width - (to - from) : 0;
  const moved = (along: number) => {
    if (along <= from) return along;
    return along >= to ? along + shift : from + ((along - from) * width) / (to - from);
  };
  const edges = piece.edges.map((other) => (other.id === edge.id ? { ...edge, path } : other));
  const outline = edges.flatMap((other) => other.path);
  if (!staysInside(outline, [first, second], places.apex)) {
    return fail('dart-leaves-piece', 'Set the point of the dart inside the piece, where both its legs can reach it.');
  }
  if (crosses(piece, [first, second], places.apex)) {
    return fail('dart-crosses', 'Its legs would cross those of another dart. Set its point elsewhere.');
  }
  const dart: Dart = { id, edge: edge.id, apex: places.apex, legs: [first, second] };
  return succeed({
    ...piece,
    edges,
    darts: [...piece.darts, dart],
    notches: straight
      ? piece.notches.map((notch) => (notch.edge === edge.id ? { ...notch, distance: moved(notch.distance) } : notch))
      : piece.notches,
  });
}

/** Largest distance of a stretch of edge from the straight line across it, mm. */
export function mouthBow(mouth: Path, legs: readonly [Point, Point]): number {
  const across = [line(...legs)];
  const places = mouth.flatMap((segment) => [0.25, 0.5, 0.75, 1].map((t) => segmentPointAt(segment, t)));
  return Math.max(0, ...places.map((p) => nearestOnPath(across, p).distance));
}

function overlaps(piece: Piece, edge: Edge, from: number, to: number): boolean {
  return piece.darts.some((dart) => {
    if (dart.edge !== edge.id) return false;
    const [a, b] = dart.legs.map((leg) => nearestOnPath(edge.path, leg).along) as [number, number];
    return from < b - markOnEdge && to > a + markOnEdge;
  });
}

/** Whether both legs run inside the outline all the way from the mouth to the point. */
function staysInside(outline: Path, legs: readonly [Point, Point], apex: Point): boolean {
  if (!containsPoint(outline, apex) || nearestOnPath(outline, apex).distance < narrowestDart) return false;
  return legs.every((leg) =>
    intersectPaths([line(leg, apex)], outline).every((meeting) => distance(meeting.point, leg) <= markOnEdge),
  );
}

/** Whether a leg crosses a leg of another dart, or ends on it. Darts may touch at their mouths, and share their point. */
function crosses(piece: Piece, legs: readonly [Point, Point], apex: Point): boolean {
  return piece.darts.some((other) =>
    legs.some((leg) =>
      other.legs.some((otherLeg) =>
        intersectPaths([line(leg, apex)], [line(otherLeg, other.apex)]).some(({ point }) => {
          const isAtBoth = (a: Point, b: Point) => distance(point, a) <= markOnEdge && distance(point, b) <= markOnEdge;
          return !isAtBoth(leg, otherLeg) && !isAtBoth(apex, other.apex);
        }),
      ),
    ),
  );
}
