import { easedHemLimit, plainHemLimit } from '../geometry/tolerance';
import type { TrueReport } from '../operations/worked';

/** What turning up a curved hem asks for. Lengths in mm. */
export interface HemAllowance {
  readonly depth: number;
  /** Length of the raw edge, and of the garment where the raw edge comes to lie. */
  readonly cutEdge: number;
  readonly garmentAtDepth: number;
  /** How much longer the raw edge is than the place it is sewn to. */
  readonly excess: number;
  /** The same at the place where the hem bends most, as a fraction. */
  readonly worstEase: number;
  readonly advice: 'plain' | 'narrow' | 'faced';
  /** The deepest hem that stays within the eased limit, mm; Infinity for a hem that does not curve outward. */
  readonly deepestNarrow: number;
}

/**
 * A hem of length S that turns by tau (outward positive), turned up h deep: the raw edge has S + tau h, the garment at
 * that height S - tau h. The worst ease is 2 h k / (1 - h k) for the largest curvature k (docs/maths/trueing.md; limits
 * of 2 and 6 % are ours). A hem too deep for its own curve, h k >= 1, cannot be turned up at all: its ease is Infinity.
 */
export function hemAllowance(
  hem: Pick<TrueReport, 'sweep' | 'hemTurning' | 'hemCurvatureMax'>,
  depth: number,
): HemAllowance {
  const { sweep, hemTurning, hemCurvatureMax } = hem;
  const bend = depth * hemCurvatureMax;
  const worstEase = bend < 1 ? (2 * bend) / (1 - bend) : Number.POSITIVE_INFINITY;
  return {
    depth,
    cutEdge: sweep + hemTurning * depth,
    garmentAtDepth: sweep - hemTurning * depth,
    excess: 2 * hemTurning * depth,
    worstEase,
    advice: worstEase <= plainHemLimit ? 'plain' : worstEase <= easedHemLimit ? 'narrow' : 'faced',
    deepestNarrow:
      hemCurvatureMax > 0 ? easedHemLimit / (hemCurvatureMax * (2 + easedHemLimit)) : Number.POSITIVE_INFINITY,
  };
}
