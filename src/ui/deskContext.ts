import { createContext, use } from 'react';
import type { Storage } from '../storage/storage';
import type { Autosave } from '../store/autosave';

/** Where garments are kept on this device. */
export interface Desk {
  readonly storage: Storage;
  readonly autosave: Autosave;
}

export const DeskContext = createContext<Desk | null>(null);

/** null where nothing is kept, as in a test. */
export function useDesk(): Desk | null {
  return use(DeskContext);
}
