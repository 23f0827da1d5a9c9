import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import { add, angleBetween, distance, type Point, quarterTurn, scale, subtract } from '../../geometry/point';
import { type RigidMove, shiftBy, turnAbout } from '../../geometry/rigidMove';
import { cutEndReach } from '../../geometry/tolerance';
import type { Piece } from '../../pattern/piece';
import type { MadeCut } from './cutPiece';
import { closesDart } from './dartCrossing';
import { sentenceCase } from './wording';

/**
 * How the two sides of a cut part, block coordinates. The sides turn by `angle` about `pivot` (> 0 opens at the open
 * end); without a pivot they slide apart by `slide`, the way the right side goes as seen from the left.
 */
export type Parting =
  | { readonly kind: 'turn'; readonly pivot: Point; readonly angle: number; readonly overlaps: boolean }
  | { readonly kind: 'slide'; readonly slide: Point; readonly overlaps: boolean };

/**
 * The parting that an opening asks for. A centre opening depends on all others; here it is closed, and
 * `centreRule` sets it afterwards.
 */
export function partingOf(piece: Piece, made: MadeCut): Outcome<Parting> {
  const { cut, hinge, openEnd } = made;
  const { opening } = cut;
  const radius = distance(hinge, openEnd);
  switch (opening.kind) {
    case 'none':
    case 'centre':
      return succeed(turning(hinge, 0));
    case 'angle':
      return turned(made, opening.angle);
    case 'arc':
      return turned(made, opening.length / radius);
    case 'chord': {
      const sine = opening.width / (2 * radius);
      return Math.abs(sine) <= 1 ? turned(made, 2 * Math.asin(sine)) : tooWide(made, opening.width);
    }
    case 'unequal':
      return unequal(made, opening.far, opening.near);
    case 'dart':
      return dartTurn(piece, made, opening.legs, opening.fraction);
  }
}

function turning(pivot: Point, angle: number): Parting {
  return { kind: 'turn', pivot, angle, overlaps: angle < 0 };
}

function turned(made: MadeCut, angle: number): Outcome<Parting> {
  if (!Number.isFinite(angle)) return notANumber(made);
  return Math.abs(angle) < Math.PI ? succeed(turning(made.hinge, angle)) : tooWide(made, angle);
}

/** A symmetric gap of width `far` at the end and `near` at the start; equal widths slide, otherwise the sides turn. */
function unequal(made: MadeCut, far: number, near: number): Outcome<Parting> {
  if (!Number.isFinite(far) || !Number.isFinite(near)) return notANumber(made);
  if (made.beforeHinge !== made.path.length) return opensBeyondHinge(made);
  if (far * near < 0) {
    return fail(
      'opening-mixed',
      `${sentenceCase(made.cut.name)} would open at one end and overlap at the other. Open both ends, or overlap both.`,
    );
  }
  const along = subtract(made.openEnd, made.hinge);
  const length = distance(made.openEnd, made.hinge);
  const overlaps = far < 0 || near < 0;
  const sine = (near - far) / (2 * length);
  if (Math.abs(sine) > 1) return tooWide(made, near);
  const angle = 2 * Math.asin(sine);
  // As good as equal: the turn is below what a double can carry across the piece.
  if (Math.abs(angle) < Number.EPSILON) {
    // Seen from the open end the right hand side of the cut is a quarter turn from the way to the hinge.
    return succeed({ kind: 'slide', slide: scale(quarterTurn(along), -near / length), overlaps });
  }
  const pivot = add(made.hinge, scale(along, -far / (near - far)));
  return succeed({ kind: 'turn', pivot, angle, overlaps });
}

function dartTurn(piece: Piece, made: MadeCut, legs: readonly [Point, Point], fraction: number): Outcome<Parting> {
  if (!(fraction >= 0 && fraction <= 1)) {
    return fail('dart-fraction', 'A dart can be closed by none of it up to all of it: give a fraction from 0 to 1.');
  }
  const dart = piece.darts.find((one) => closesDart(legs, one));
  if (dart !== undefined && distance(dart.apex, made.hinge) > cutEndReach) {
    return fail(
      'slash-misses-apex',
      `${sentenceCase(made.cut.name)} does not reach the tip of the dart, so closing the dart cannot open it flat. End the slash at the tip.`,
    );
  }
  const full = Math.abs(angleBetween(subtract(legs[0], made.hinge), subtract(legs[1], made.hinge)));
  return succeed(turning(made.hinge, full * fraction));
}

function tooWide(made: MadeCut, amount: number): Failure {
  return Number.isFinite(amount)
    ? fail(
        'opening-too-wide',
        `${sentenceCase(made.cut.name)} cannot open that far: an opening is at most twice the length of the line, and a turn less than half a circle. Use a smaller opening.`,
      )
    : notANumber(made);
}

function notANumber(made: MadeCut): Failure {
  return fail('opening-not-a-number', `The opening of ${made.cut.name} is not a number. Type it again.`);
}

function opensBeyondHinge(made: MadeCut): Failure {
  return fail(
    'hinge-inside-cut',
    `${sentenceCase(made.cut.name)} is hinged part-way, so it cannot open at both ends. End the line at its hinge.`,
  );
}

/** How a panel on the right (or left) of the cut moves against the panel on its other side. */
export function partingMove(parting: Parting, child: 'left' | 'right'): RigidMove {
  const sign = child === 'right' ? 1 : -1;
  // Walking to the hinge, the right side swings open counter-clockwise on screen, which is negative with y down.
  return parting.kind === 'turn'
    ? turnAbout(parting.pivot, -sign * parting.angle)
    : shiftBy(scale(parting.slide, sign));
}
