import type { AppStore } from '../../store/appCommands';
import type { BringInStore } from '../../store/bringIn';
import { askFirst } from './mayPutAway';

/**
 * Whether the open garment may leave the table. The maker is asked only when changes could not be kept on this device
 * and would be lost with it.
 */
export function mayLeave(store: AppStore, bringIn: BringInStore, instead: string): Promise<boolean> {
  const { garment, saved, past } = store.getState();
  if (garment === null || saved !== 'failed' || past.length === 0) return Promise.resolve(true);
  return askFirst(bringIn, { title: `“${garment.name}” is not kept`, warning: notKept, instead });
}

const notKept =
  'Its last changes could not be saved on this device and would be lost. Save a copy as a file first, from the menu under its name.';
