import type { Outcome } from '../../src/geometry/outcome';
import type { Garment } from '../../src/pattern/garment';
import type { AppStore } from '../../src/store/appCommands';
import { type AppStoreOptions, createAppStore } from '../../src/store/store';

/** A store with countable ids and dates, and a garment open in it. */
export function testStore(garment: Garment, options: AppStoreOptions = {}): AppStore {
  let ids = 0;
  let ticks = 0;
  const store = createAppStore({
    newId: () => `id-${ids++}`,
    now: () => new Date(Date.UTC(2026, 0, 1, 0, 0, ticks++)).toISOString(),
    ...options,
  });
  store.actions.openGarment(garment);
  return store;
}

export function must<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome.value;
}
