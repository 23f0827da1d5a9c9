import { intersectPaths } from '../../geometry/intersect';
import { type Failure, fail } from '../../geometry/outcome';
import { distance, type Point } from '../../geometry/point';
import { line } from '../../geometry/segment';
import { cutEndReach } from '../../geometry/tolerance';
import type { Dart, Piece } from '../../pattern/piece';
import type { MadeCut } from './cutPiece';
import { sentenceCase } from './wording';

/** Refuses a cut across a dart, unless it passes through the apex or the plan closes that dart. */
export function checkDarts(piece: Piece, cuts: readonly MadeCut[]): Failure | null {
  for (const dart of piece.darts) {
    if (cuts.some(({ cut }) => cut.opening.kind === 'dart' && closesDart(cut.opening.legs, dart))) continue;
    const legs = dart.legs.map((leg) => [line(dart.apex, leg)]);
    const crossing = cuts.find(({ path }) =>
      legs.some((leg) => intersectPaths(path, leg).some(({ point }) => distance(point, dart.apex) > cutEndReach)),
    );
    if (crossing === undefined) continue;
    return fail(
      'cut-crosses-dart',
      `${sentenceCase(crossing.cut.name)} crosses a dart that is open. Close that dart into the hem, or move the line so that it misses the dart or passes through its tip.`,
    );
  }
  return null;
}

export function closesDart(legs: readonly [Point, Point], dart: Dart): boolean {
  const [a, b] = dart.legs;
  const same = (p: Point, q: Point) => distance(p, q) <= cutEndReach;
  return (same(legs[0], a) && same(legs[1], b)) || (same(legs[0], b) && same(legs[1], a));
}
