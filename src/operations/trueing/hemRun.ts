import { segmentLength } from '../../geometry/arcLength';
import { distance } from '../../geometry/point';
import { samePoint } from '../../geometry/tolerance';
import type { OpenedCut } from '../worked';
import type { HemArc, HemRun } from './hemTarget';
import type { TracedPath } from './tracedPath';

/**
 * The strips' hems as the fit wants them: one arc for every own segment, placed on the arc-bridged length in which a
 * gap counts as the arc about its hinge. Steps left by overlaps have no length.
 */
export function hemRun(
  hem: TracedPath,
  cuts: readonly OpenedCut[],
  shifts: { readonly outward: 1 | -1; readonly centre: number; readonly side: number },
): HemRun {
  const angles = new Map(cuts.map(({ id, angle }) => [id, angle]));
  const arcs: HemArc[] = [];
  let length = 0;
  for (const { segment, origin } of hem) {
    if (origin.kind === 'own') {
      const own = segmentLength(segment);
      // An overlap can leave a stretch too short to have a direction.
      if (own > samePoint) arcs.push({ segment, from: length, length: own, panel: origin.panel });
      length += own;
    } else if (origin.kind === 'gap') {
      length += gapArc(distance(segment.start, segment.end), angles.get(origin.cut) ?? 0);
    }
  }
  return { arcs, length, outward: shifts.outward, shiftCentre: shifts.centre, shiftSide: shifts.side };
}

/** Length of the arc over a chord that turns by `angle`, mm; the chord itself when nothing turns. */
function gapArc(chord: number, angle: number): number {
  const half = Math.abs(angle) / 2;
  return half < 1e-9 ? chord : (chord * half) / Math.sin(half);
}
