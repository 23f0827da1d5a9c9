import { curvatureAt, curvatureSignChanges, totalTurning } from '../../geometry/curvature';
import { angleBetween, type Point, subtract } from '../../geometry/point';
import type { Path } from '../../geometry/segment';
import { smoothJoint } from '../../geometry/tolerance';
import type { HemRun } from './hemTarget';
import type { HemFrame } from './hemWorkspace';

/** How a hem bends. Positive is outward: the hem of a flared piece is convex. */
export interface HemBend {
  /** Total turning from end to end, radians. */
  readonly turning: number;
  /** The curvature that is largest in size, with its sign, 1/mm, looked for at the middles of a hundred stretches. */
  readonly strongest: number;
  /** How often the bend changes side, and how many of these the strips themselves do not ask for. */
  readonly signChanges: number;
  readonly unwanted: number;
}

/** Looks at a hem travelled from the centre line to the side. */
export function hemBend(hem: Path, run: HemRun, frame: HemFrame): HemBend {
  const signChanges = curvatureSignChanges(hem);
  return {
    turning: -run.outward * totalTurning(hem),
    strongest: -run.outward * strongestCurvature(hem),
    signChanges,
    unwanted: Math.max(signChanges - wantedSignChanges(run, frame), 0),
  };
}

/**
 * Changes of side in the row of directions that the hem must pass through: square off the centre line, along each
 * strip, square to the side. Squaring a corner that was not square may ask for one.
 */
function wantedSignChanges(run: HemRun, frame: HemFrame): number {
  const directions: Point[] = [frame.startTangent];
  let start: Point | null = null;
  run.arcs.forEach((arc, index) => {
    start ??= arc.segment.start;
    if (run.arcs[index + 1]?.panel === arc.panel) return;
    directions.push(subtract(arc.segment.end, start));
    start = null;
  });
  directions.push(frame.endTangent);
  let changes = 0;
  let side = 0;
  for (let i = 1; i < directions.length; i++) {
    const turned = angleBetween(directions[i - 1]!, directions[i]!);
    if (Math.abs(turned) < smoothJoint) continue;
    if (side !== 0 && Math.sign(turned) !== side) changes++;
    side = Math.sign(turned);
  }
  return changes;
}

/** Middles of a hundred stretches of a span, so that the answer is the bend of a stretch and not of the very tip. */
const looks = 100;

function strongestCurvature(path: Path): number {
  let strongest = 0;
  for (const segment of path) {
    for (let i = 0; i < looks; i++) {
      const here = curvatureAt(segment, (i + 0.5) / looks);
      if (Math.abs(here) > Math.abs(strongest)) strongest = here;
    }
  }
  return strongest;
}
