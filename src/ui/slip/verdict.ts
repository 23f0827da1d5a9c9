import type { SeamReport } from '../../measure/versionReport';

export interface Verdict {
  readonly tone: 'good' | 'warn' | 'refuse';
  readonly sign: string;
  readonly word: string;
}

/** Never colour alone: every verdict has a sign and a word. */
export function seamVerdict(verdict: SeamReport['verdict']): Verdict {
  switch (verdict) {
    case 'match':
      return { tone: 'good', sign: '✓', word: 'Match' };
    case 'close':
      return { tone: 'good', sign: '✓', word: 'Close enough' };
    case 'warn':
      return { tone: 'warn', sign: '!', word: 'Look again' };
    case 'fail':
      return { tone: 'refuse', sign: '✕', word: 'Do not match' };
  }
}

const squareWithin = 0.1;

/** A hem corner against the right angle, radians; square to a tenth of a degree. */
export function cornerVerdict(corner: number, wanted: number): Verdict {
  const off = Math.abs(((corner - wanted) * 180) / Math.PI);
  return off <= squareWithin
    ? { tone: 'good', sign: '✓', word: 'Square' }
    : { tone: 'warn', sign: '!', word: 'Not square' };
}
