import type { Outcome } from '../../src/geometry/outcome';

/** The value of an outcome; a refusal fails the test with its sentence. */
export function granted<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome.value;
}

/** The code of a refusal, or `accepted`. */
export function refusalOf<T>(outcome: Outcome<T>): string {
  return outcome.ok ? 'accepted' : outcome.code;
}
