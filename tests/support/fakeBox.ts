import type { Box } from '../../src/storage/lastMoment';

/** A local storage for tests, which Node 22 has not. */
export function createFakeBox(): Box & { readonly entries: Map<string, string> } {
  const entries = new Map<string, string>();
  return {
    entries,
    getItem: (key) => entries.get(key) ?? null,
    setItem: (key, value) => void entries.set(key, value),
    removeItem: (key) => void entries.delete(key),
  };
}
