import { bothUnits } from '../operations/trueing/bothUnits';
import type { TrueReport } from '../operations/worked';
import { hemAllowance } from './hemAllowance';

/** A sentence when the hem is too full to be turned up plainly at this depth (mm); null when it is not. */
export function hemAdvice(trued: TrueReport, depth: number): string | null {
  if (depth <= 0) return null;
  const { advice, worstEase, deepestNarrow } = hemAllowance(trued, depth);
  if (advice === 'plain') return null;
  const ease = Number.isFinite(worstEase) ? `${(100 * worstEase).toFixed(0)} %` : 'more than all';
  const hem = `A hem ${bothUnits(depth)} deep has to be eased in by ${ease} at its fullest place`;
  return advice === 'narrow'
    ? `${hem}: sew it narrow and ease it, or face it.`
    : `${hem}: face it, bind it on the bias, or roll a hem no deeper than ${bothUnits(deepestNarrow)}.`;
}
