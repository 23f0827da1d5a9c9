import { intersectPaths } from '../../geometry/intersect';
import { type Failure, fail } from '../../geometry/outcome';
import { distance } from '../../geometry/point';
import { movePoint, moveSegment, type RigidMove } from '../../geometry/rigidMove';
import type { Path } from '../../geometry/segment';
import { cutEndReach } from '../../geometry/tolerance';
import type { CutPiece, CutSidePart } from './cutPiece';
import type { Joint } from './place';

/**
 * Refuses an opened cut whose two sides would lie over each other part-way. A straight cut cannot do that; a drawn one
 * can, where some circle about its hinge meets it more than once.
 */
export function checkBanks(
  { cuts, left, right, panels }: CutPiece,
  moves: readonly (RigidMove | null)[],
  joints: readonly Joint[],
  jointOf: readonly number[],
): Failure | null {
  for (const [cut, made] of cuts.entries()) {
    const joint = joints[jointOf[cut]!];
    if (joint === undefined || joint.parting.overlaps) continue;
    if (made.beforeHinge === 1 && made.path[0]!.kind === 'line') continue;
    const bank = (parts: readonly CutSidePart[]): Path =>
      parts
        .filter(({ high }) => high <= made.beforeHinge)
        .map(({ panel, index }) => moveSegment(moves[panel]!, panels[panel]!.segments[index]!));
    const hinge = movePoint(moves[joint.left]!, made.hinge);
    const meets = intersectPaths(bank(left[cut]!), bank(right[cut]!)).some(
      ({ point }) => distance(point, hinge) > cutEndReach,
    );
    const opens = joint.parting.kind === 'slide' || joint.parting.angle !== 0;
    if (meets && opens) {
      return fail(
        'banks-overlap',
        `Opened, the two sides of ${made.cut.name} would lie over each other part-way. Draw it straighter, so that it runs steadily away from its hinge.`,
      );
    }
  }
  return null;
}
