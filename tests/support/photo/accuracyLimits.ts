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
 * announced somewhere on the piece, or more than a twentieth of the edge is called faint. (A little is called faint on nearly every photograph, so that less than
 * that warns nobody.)
 */
export function isAnnounced(m: Measured): boolean {
  return m.refused !== null || m.expected > 0.5 || m.uncertain > 0.05;
}

/** What a photograph does not reach, in words; empty when all is reached. */
export function shortfalls(m: Measured): string[] {
  if (m.refused !== null) return [`refused: ${m.refused.code}`];
  const short: string[] = [];
  if (!(m.p95 <= accuracyLimits.p95)) short.push(`95 % within ${m.p95.toFixed(2)} mm`);
  if (!(m.worst <= accuracyLimits.silent)) {
    short.push(`worst ${m.worst.toFixed(2)} mm, ${isAnnounced(m) ? 'warned' : 'SILENT'}`);
  }
  if (Number.isNaN(m.lengths)) short.push('a corner not found');
  else if (m.lengths > accuracyLimits.lengths) short.push(`lengths to ${(100 * m.lengths).toFixed(2)} %`);
  return short;
}
