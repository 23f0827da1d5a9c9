import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { cross, distance, dot, type Point, subtract } from '../../geometry/point';
import { movePoint, type RigidMove } from '../../geometry/rigidMove';
import { joinScale, joinSpan } from '../../geometry/tolerance';

/** A place marked on two straightened pictures, mm on the table of each. */
export interface SharedPlace {
  readonly from: Point;
  readonly to: Point;
}

export interface Placed {
  /** Carries the first picture's table onto the second's. */
  readonly move: RigidMove;
  /** mm: how far the worst pair lies apart after the move. */
  readonly worst: number;
  /** Which pair that is. */
  readonly worstPair: number;
  /** The size of the second over that of the first, as the pairs see it; 1 when both were straightened rightly. */
  readonly scale: number;
}

/**
 * The turn and shift that bring marked places of one picture onto the same places of another, least squares (Kabsch 1976
 * in the plane, closed form). Nothing is stretched: both pictures are in mm, and pairs that would need it are refused.
 */
export function placeByPoints(pairs: readonly SharedPlace[]): Outcome<Placed> {
  if (pairs.length < 2) {
    return fail('photo-join-too-few', 'Mark at least two places that both pictures show, as far apart as you can.');
  }
  const from = middleOf(pairs.map((pair) => pair.from));
  const to = middleOf(pairs.map((pair) => pair.to));
  let along = 0;
  let across = 0;
  let fromSquares = 0;
  let toSquares = 0;
  for (const pair of pairs) {
    const a = subtract(pair.from, from);
    const b = subtract(pair.to, to);
    along += dot(a, b);
    across += cross(a, b);
    fromSquares += dot(a, a);
    toSquares += dot(b, b);
  }
  const span = widest(pairs.map((pair) => pair.from));
  if (!(Math.min(span, widest(pairs.map((pair) => pair.to))) >= joinSpan)) {
    return fail(
      'photo-join-too-near',
      `The marked places lie within ${Math.round(joinSpan)} mm of each other; the pictures could be turned against each other without it showing. Mark places farther apart.`,
    );
  }
  const angle = Math.atan2(across, along);
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const move: RigidMove = {
    angle,
    cos,
    sin,
    tx: to.x - (cos * from.x - sin * from.y),
    ty: to.y - (sin * from.x + cos * from.y),
  };
  const apart = pairs.map((pair) => distance(movePoint(move, pair.from), pair.to));
  const worst = Math.max(...apart);
  const scale = Math.sqrt(toSquares / fromSquares);
  if (Math.abs(scale - 1) > joinScale) {
    const percent = (100 * Math.abs(scale - 1)).toFixed(1);
    return fail(
      'photo-join-scale',
      `Between the marked places the second picture is ${percent} % ${scale > 1 ? 'larger' : 'smaller'} than the first. One mark is on the wrong place, or one of the sheets was not the size given or not flat.`,
    );
  }
  return succeed({ move, worst, worstPair: apart.indexOf(worst), scale });
}

function middleOf(places: readonly Point[]): Point {
  return {
    x: places.reduce((sum, { x }) => sum + x, 0) / places.length,
    y: places.reduce((sum, { y }) => sum + y, 0) / places.length,
  };
}

function widest(places: readonly Point[]): number {
  return Math.max(...places.flatMap((p) => places.map((q) => distance(p, q))));
}
