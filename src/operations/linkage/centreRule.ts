import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import { add, dot, heading, norm, type Point, quarterTurn, scale, subtract, turn, unit } from '../../geometry/point';
import { movePoint, type RigidMove } from '../../geometry/rigidMove';
import { cutEndReach } from '../../geometry/tolerance';
import { type Joint, type Placement, placePanels } from './place';
import type { CentreOpening } from './plan';

/**
 * Sets the opening of the cut that carries the centre strip, by the rule (docs/maths/linkage.md, section 4):
 * - parallel: the centre strip keeps its direction, which fixes the turn as the sum of all openings;
 * - slide: as parallel, then everything beyond the cut shifts square to the centre line until the centre strip lies on
 *   it; the hinge tears by that much;
 * - corner: the turn is changed by the least that brings the hem corner onto the centre line.
 * `joint` is the joint of that cut, `openEnd` the end of the cut at the centre line, `strip` the panel there.
 */
export function placeByCentreRule(
  present: readonly boolean[],
  joints: readonly Joint[],
  fixed: number,
  joint: number,
  strip: number,
  openEnd: Point,
  opening: CentreOpening,
): Outcome<{ readonly joints: readonly Joint[]; readonly placement: Placement }> {
  const closed = placePanels(present, joints, fixed);
  if (!closed.ok) return closed;
  const child = reachedThrough(closed.value, joints, fixed, joint, strip);
  if (child === null) return notCarried();
  // A right-hand child turns by minus the opening (y down).
  const sign = child === joints[joint]!.right ? 1 : -1;
  const parallel = withTurn(joints, joint, sign * closed.value.moves[strip]!.angle, null);
  const placed = placePanels(present, parallel, fixed);
  if (!placed.ok || opening.rule === 'parallel') return placed.ok ? both(parallel, placed.value) : placed;

  const normal = unit(quarterTurn(opening.line.direction));
  const corner = movePoint(placed.value.moves[strip]!, opening.corner);
  const offset = dot(subtract(corner, opening.line.through), normal);
  const changed =
    opening.rule === 'slide'
      ? withTurn(parallel, joint, turnOf(parallel, joint), scale(normal, -offset))
      : turnedOntoLine(parallel, joint, sign, placed.value, child, corner, normal, opening.line.through);
  if (changed === null) {
    return fail(
      'corner-out-of-reach',
      'However the strips turn, the hem corner cannot reach the centre line. Keep the centre strip parallel, or slide the strips.',
    );
  }
  const again = placePanels(present, changed, fixed);
  if (!again.ok) return again;
  // Turned back that far, the centre strip would rise past the line it was cut along.
  const drop = (moves: Placement['moves']) => {
    const shift = subtract(movePoint(moves[strip]!, openEnd), openEnd);
    return dot(shift, subtract(opening.corner, openEnd));
  };
  if (
    drop(placed.value.moves) >= 0 &&
    drop(again.value.moves) < -cutEndReach * norm(subtract(opening.corner, openEnd))
  ) {
    return fail(
      'corner-lifts-strips',
      'Turned until the hem corner meets the centre line, the strips would run into the part above. Keep the centre strip parallel, or slide the strips.',
    );
  }
  return both(changed, again.value);
}

function both(joints: readonly Joint[], placement: Placement) {
  return succeed({ joints, placement });
}

function notCarried(): Failure {
  return fail(
    'centre-strip-not-carried',
    'The centre strip does not hang on the fullness line, so the centre rule has nothing to turn. Let the fullness line run from the centre line to the side.',
  );
}

/** The panel just beyond `joint` on the way from the fixed panel to `strip`; null if the way does not lead through it. */
function reachedThrough(
  placement: Placement,
  joints: readonly Joint[],
  fixed: number,
  joint: number,
  strip: number,
): number | null {
  for (let panel = strip; panel !== fixed; ) {
    const leading = placement.leadingJoint[panel]!;
    const { left, right } = joints[leading]!;
    if (leading === joint) return panel;
    panel = panel === left ? right : left;
  }
  return null;
}

function withTurn(joints: readonly Joint[], joint: number, angle: number, tear: Point | null): Joint[] {
  return joints.map((one, index) => {
    if (index !== joint || one.parting.kind !== 'turn') return one;
    return { ...one, tear, parting: { ...one.parting, angle, overlaps: angle < 0 } };
  });
}

function turnOf(joints: readonly Joint[], joint: number): number {
  const { parting } = joints[joint]!;
  return parting.kind === 'turn' ? parting.angle : 0;
}

/** The joints with the centre cut turned on until the corner lies on the line; null if no turn brings it there. */
function turnedOntoLine(
  joints: readonly Joint[],
  joint: number,
  sign: 1 | -1,
  placement: Placement,
  child: number,
  corner: Point,
  normal: Point,
  through: Point,
): Joint[] | null {
  const { parting } = joints[joint]!;
  if (parting.kind !== 'turn') return null;
  const hinge = movePoint(placement.moves[child] as RigidMove, parting.pivot);
  const arm = subtract(corner, hinge);
  const reach = dot(normal, subtract(through, hinge));
  const cosine = reach / norm(arm);
  if (!(Math.abs(cosine) <= 1)) return null;
  const lean = heading(arm) - heading(normal);
  const roots = [Math.acos(cosine) - lean, -Math.acos(cosine) - lean].map(wrapped);
  let delta = Math.abs(roots[0]!) <= Math.abs(roots[1]!) ? roots[0]! : roots[1]!;
  // Near the top of the cosine acos loses half the digits; Newton on the offset itself gives them back.
  for (let step = 0; step < 3; step++) {
    const turned = turn(arm, delta);
    const slope = dot(normal, quarterTurn(turned));
    if (slope === 0) break;
    delta -= (dot(normal, add(hinge, turned)) - dot(normal, through)) / slope;
  }
  return withTurn(joints, joint, parting.angle - sign * delta, null);
}

/** The angle brought into (-pi, pi]. */
function wrapped(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}
