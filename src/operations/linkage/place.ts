import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { Point } from '../../geometry/point';
import { compose, type RigidMove, shiftBy, stayPut } from '../../geometry/rigidMove';
import { type Parting, partingMove } from './opening';

/** Two panels joined along a cut. */
export interface Joint {
  readonly left: number;
  readonly right: number;
  readonly parting: Parting;
  /** A shift, after all turns, of everything beyond this joint as seen from the fixed panel; tears the hinge. */
  readonly tear: Point | null;
}

export interface Placement {
  /** By panel; null for panels that were taken away. */
  readonly moves: readonly (RigidMove | null)[];
  /** Panels in order of their distance from the fixed one, which comes first. */
  readonly order: readonly number[];
  /** For each panel, the joint that leads to it from the fixed panel; -1 for the fixed one and for those taken away. */
  readonly leadingJoint: readonly number[];
}

/**
 * Places every panel by walking the joints from the fixed panel: a panel's move is its parent's move after the turn of
 * the joint about its ORIGINAL hinge, so turns add exactly along the chain. Panels and joints must be a tree: a ring of
 * panels is rigid or over-constrained, and a panel no joint reaches would fall off.
 */
export function placePanels(present: readonly boolean[], joints: readonly Joint[], fixed: number): Outcome<Placement> {
  const at: number[][] = present.map(() => []);
  joints.forEach(({ left, right }, index) => {
    at[left]!.push(index);
    at[right]!.push(index);
  });
  const moves: (RigidMove | null)[] = present.map(() => null);
  const leadingJoint: number[] = present.map(() => -1);
  const order = [fixed];
  moves[fixed] = stayPut;
  for (let head = 0; head < order.length; head++) {
    const parent = order[head]!;
    for (const index of at[parent]!) {
      if (leadingJoint[parent] === index) continue;
      const joint = joints[index]!;
      const child = joint.left === parent ? joint.right : joint.left;
      if (moves[child] !== null) {
        return fail(
          'linkage-loop',
          'The joints form a ring, which cannot open flat. Cut one of the hinges in the ring, or take one slash away.',
        );
      }
      const turned = compose(moves[parent]!, partingMove(joint.parting, child === joint.right ? 'right' : 'left'));
      moves[child] = joint.tear === null ? turned : compose(shiftBy(joint.tear), turned);
      leadingJoint[child] = index;
      order.push(child);
    }
  }
  if (present.some((here, panel) => here && moves[panel] === null)) {
    return fail(
      'panels-come-apart',
      'A part of the piece is left without a hinge and would fall off. Leave a hinge on it, or do not take its neighbour away.',
    );
  }
  return succeed({ moves, order, leadingJoint });
}
