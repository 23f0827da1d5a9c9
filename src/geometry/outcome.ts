/**
 * What an operation answers: a value, or a failure that a person can read.
 *
 * Operations never throw for bad input. `code` is stable and kebab-case, for tests and callers;
 * `sentence` says what is wrong and what to do about it, in the maker's words.
 */
export type Outcome<T> = Success<T> | Failure;

export interface Success<T> {
  readonly ok: true;
  readonly value: T;
}

export interface Failure {
  readonly ok: false;
  readonly code: string;
  readonly sentence: string;
}

export function succeed<T>(value: T): Success<T> {
  return { ok: true, value };
}

export function fail(code: string, sentence: string): Failure {
  return { ok: false, code, sentence };
}
