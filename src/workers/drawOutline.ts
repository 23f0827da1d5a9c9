import { type OutlineCorner, proposeCorners } from '../exchange/cornerProposal';
import { smoothOutline } from '../exchange/smoothOutline';
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
const allowances = [traceDeviation, 0.15, 0.2, 0.3] as const;

/** Draws a dense trace with few smooth curves, within the smallest allowance that does it for every edge. */
export function drawOutline(trace: Path): DrawnOutline {
  const corners = proposeCorners(trace);
  let best: DrawnOutline | null = null;
  for (const allowance of allowances) {
    const drawn = smoothOutline(trace, corners, allowance);
    if (selfIntersections(drawn.path).length > 0) continue;
    best = drawn;
    if (drawn.roughEdges === 0) break;
  }
  return (
    best ?? { path: trace, corners, sentence: 'The outline is kept in all its small steps; no smooth one was found.' }
  );
}
