import { type Outcome, succeed } from '../geometry/outcome';
import type { Garment } from '../pattern/garment';
import type { Storage } from '../storage/storage';
import type { AppStore } from './appCommands';
import { places } from './appState';

/**
 * Brings back the garment, version and place of the last session; null when there was none. Call it before autosave is
 * attached. A garment that cannot be read stays saved as it is, and the failure says so.
 */
export async function restoreSession(store: AppStore, storage: Storage): Promise<Outcome<Garment | null>> {
  const session = await storage.loadSession();
  if (!session.ok) return session;
  if (!session.value?.garment) return succeed(null);
  const loaded = await storage.loadGarment(session.value.garment);
  if (!loaded.ok) return loaded;
  const { actions } = store;
  actions.openGarment(loaded.value);
  const place = places.find((candidate) => candidate === session.value!.place);
  if (place) actions.goTo(place);
  if (session.value.activePiece !== null) actions.pickPiece(session.value.activePiece);
  actions.takeDown(session.value.activeVersion);
  actions.layGhost(session.value.ghost);
  return loaded;
}
