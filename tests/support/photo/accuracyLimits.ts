import type { Measured } from './measurePhoto';

/** What the reading of photographs has to reach. */
export const accuracyLimits = {
  /** mm: 95 % of the outline's points lie within this of the true outline. */
  p95: 0.25,
  /** mm: no point is farther off without a warning. */
  silent: 0.75,
  /** Relative error of long distances on the piece: 0.1 %. */
  lengths: 0.001,
} as const;

/**
 * Whether the maker is told that this photograph cannot be trusted: it is refused, or an error of more than 0.5 mm is
 * announced somewhere on the piece, or any stretch of the edge, however short, is called doubtful.
 */
export function isAnnounced(m: Measured): boolean {
  return m.refused !== null || m.expected > 0.5 || m.doubts > 0;
}

/** Share of the outline that has to be doubtful before the whole photograph counts as warned of, by the second rule. */
const warnedOf = 0.05;

/**
 * Whether a point is too far off without a word, by either of two rules, so that neither is laxer than the other: no
 * doubtful stretch holds that very point, or less than a twentieth of the outline is doubtful at all. An error announced
 * above 0.5 mm is a word by both.
 */
export function isSilent(m: Measured): boolean {
  if (m.refused !== null || m.expected > 0.5) return false;
  const { silent } = accuracyLimits;
  return m.worstUntold > silent || (m.worst > silent && !(m.uncertain > warnedOf));
}

/** What a photograph does not reach, in words; empty when all is reached. */
export function shortfalls(m: Measured): string[] {
  if (m.refused !== null) return [`refused: ${m.refused.code}`];
  const short: string[] = [];
  if (!(m.p95 <= accuracyLimits.p95)) short.push(`95 % within ${m.p95.toFixed(2)} mm`);
  if (!(m.worst <= accuracyLimits.silent)) {
    short.push(`worst ${m.worst.toFixed(2)} mm, ${isSilent(m) ? 'SILENT' : 'warned'}`);
  }
  if (Number.isNaN(m.lengths)) short.push('a corner not found');
  else if (m.lengths > accuracyLimits.lengths) short.push(`lengths to ${(100 * m.lengths).toFixed(2)} %`);
  return short;
}
