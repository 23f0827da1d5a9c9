import { fail, type Outcome } from '../../geometry/outcome';
import type { AppStore } from '../../store/appCommands';
import type { BringInStore, Work } from '../../store/bringIn';
import type { Lying } from '../../store/unfinishedForm';

/**
 * Lays the table as the maker left it, and says so from the first moment, as the table would look empty. What reads
 * pictures is only fetched where something lies there. Fails as `layAgain` does, and with `cancelled` when stopped.
 */
export async function fetchAndLayAgain(
  lying: Lying,
  files: ReadonlyMap<string, Blob>,
  store: AppStore,
  bringIn: BringInStore,
  fetchIt: () => Promise<typeof import('./layAgain')> = () => import('./layAgain'),
): Promise<Outcome<null>> {
  let stopped = false;
  const stop = () => {
    stopped = true;
    bringIn.actions.showWork(null);
  };
  const atOnce = lying.picture !== null || lying.underlay !== null;
  const work: Work = { doing: 'Laying the table as you left it', share: null, stop, atOnce };
  bringIn.actions.showWork(work);
  try {
    const { layAgain } = await fetchIt();
    if (stopped) return fail('cancelled', 'Stopped.');
    if (bringIn.getState().work === work) bringIn.actions.showWork(null);
    return await layAgain(lying, files, store, { bringIn });
  } finally {
    if (bringIn.getState().work === work) bringIn.actions.showWork(null);
  }
}
