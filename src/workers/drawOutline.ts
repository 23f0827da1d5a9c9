import { type OutlineCorner, proposeCorners } from '../exchange/cornerProposal';
import { type SmoothedOutline, smoothOutline } from '../exchange/smoothOutline';
import { selfIntersections } from '../geometry/intersect';
import type { Path } from '../geometry/segment';
import { traceDeviation } from '../geometry/tolerance';

/** An outline with few lines and curves, its corners found. */
export interface DrawnOutline {
  readonly path: Path;
  readonly corners: readonly OutlineCorner[];
  /** How it was drawn, for the maker. */
  readonly sentence: string;
}

/** mm. Allowances tried one after the other: a trace from a noisy picture cannot be drawn smoothly within the first. */
const allowances = [traceDeviation, 0.15, 0.2, 0.25, 0.3] as const;

/** Lines and curves for each edge, from which on a larger allowance is tried. */
const manyForAnEdge = 2.5;

/** mm. A larger allowance than this is tried only for edges that cannot be drawn at all. */
const largestForFew = 0.25;

/** Draws a dense trace with few smooth curves, within the smallest allowance that does it for every edge. */
export function drawOutline(trace: Path): DrawnOutline {
  const corners = proposeCorners(trace);
  const few = manyForAnEdge * Math.max(1, corners.length);
  let best: SmoothedOutline | null = null;
  for (const allowance of allowances) {
    if (best?.roughEdges === 0 && allowance > largestForFew) break;
    const drawn = smoothOutline(trace, corners, allowance);
    if (best !== null && drawn.segmentsAfter >= best.segmentsAfter) continue;
    if (selfIntersections(drawn.path).length > 0) continue;
    best = drawn;
    if (drawn.roughEdges === 0 && drawn.segmentsAfter <= few) break;
  }
  return (
    best ?? { path: trace, corners, sentence: 'The outline is kept in all its small steps; no smooth one was found.' }
  );
}
