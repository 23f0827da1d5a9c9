import { distance } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { samePoint } from '../geometry/tolerance';

/** Parts segments into paths where each follows on from the one before, so that dashes and joins run through. */
export function joinRuns(segments: Path): Path[] {
  const runs: Path[] = [];
  for (const segment of segments) {
    const last = runs.at(-1);
    const end = last?.at(-1)?.end;
    if (last !== undefined && end !== undefined && distance(end, segment.start) < samePoint) {
      runs[runs.length - 1] = [...last, segment];
    } else runs.push([segment]);
  }
  return runs;
}
