import { pathEnd, pathStart } from '../../geometry/path';
import { add, distance, type Point, scale } from '../../geometry/point';
import { line, type Path, type Segment } from '../../geometry/segment';
import { allowanceChord } from '../../geometry/tolerance';
import type { AllowanceSide } from './side';
import { nearestCrossing } from './trim';

/**
 * The line the hem is turned up on: the hem itself, run on straight at both ends to the cut line of its neighbours.
 * Null without a hem allowance. A piece with several hems gives the longest run of them (by count of sides).
 */
export function hemFoldLine(sides: readonly AllowanceSide[]): Path | null {
  const count = sides.length;
  const folds = (i: number) => sides[i % count]!.edge.role === 'hem' && sides[i % count]!.width > 0;
  let best: number[] = [];
  for (let i = 0; i < count; i++) {
    if (!folds(i) || folds(i + count - 1)) continue;
    const run: number[] = [];
    for (let j = i; folds(j) && run.length < count; j++) run.push(j % count);
    if (run.length > best.length) best = run;
  }
  if (best.length === 0) return null;
  const first = sides[best[0]!]!;
  const last = sides[best[best.length - 1]!]!;
  const hem: Segment[] = best.flatMap((i) => sides[i]!.seam);
  const before = sides[(best[0]! + count - 1) % count]!;
  const after = sides[(best[best.length - 1]! + 1) % count]!;
  const start = runOn(pathStart(hem), scale(first.startDirection, -1), before);
  const end = runOn(pathEnd(hem), last.endDirection, after);
  return [...(start ? [line(start, pathStart(hem))] : []), ...hem, ...(end ? [line(pathEnd(hem), end)] : [])];
}

/** Where the straight run beyond a hem end meets the neighbour's cut line; null when it adds nothing. */
function runOn(from: Point, direction: Point, neighbour: AllowanceSide): Point | null {
  if (neighbour.width === 0) return null;
  const ray = line(from, add(from, scale(direction, 4 * neighbour.width)));
  const hit = nearestCrossing([ray], longer(neighbour));
  return hit && distance(hit.point, from) > allowanceChord ? hit.point : null;
}

/** The neighbour's offset with straight run-ons, so that a leaning side still meets the fold line. */
function longer(side: AllowanceSide): Path {
  const reach = 4 * side.width;
  const start = pathStart(side.moved.path);
  const end = pathEnd(side.moved.path);
  return [
    line(add(start, scale(side.startDirection, -reach)), start),
    ...side.moved.path,
    line(end, add(end, scale(side.endDirection, reach))),
  ];
}
