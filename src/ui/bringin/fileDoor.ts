import { readProject } from '../../exchange/project/projectFile';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { AppStore } from '../../store/appCommands';
import type { BringInStore } from '../../store/bringIn';
import { useAppStore, useBringInStore } from '../storeContext';
import { nameFromFile } from './nameFromFile';

/** Opens whatever file the maker hands in: a saved garment takes the table, an SVG is laid down to be brought in. */
export async function openFile(file: File, store: AppStore, bringIn: BringInStore): Promise<Outcome<null>> {
  const text = await file.text().catch(() => null);
  if (text === null) return fail('file-unreadable', 'This file could not be read. Try it once more.');
  if (/^\uFEFF?\s*\{/u.test(text) || /\.json$/i.test(file.name)) {
    const garment = readProject(text);
    if (!garment.ok) return garment;
    bringIn.actions.layDraft(null);
    store.actions.openGarment(garment.value);
    return succeed(null);
  }
  // The reader is not needed until a drawing is opened.
  const [{ readSvg }, { draftFromSvg }] = await Promise.all([
    import('../../exchange/svg/readSvg'),
    import('./draftFromSvg'),
  ]);
  const reading = readSvg(text);
  if (!reading.ok) return reading;
  const draft = draftFromSvg(reading.value, file.name);
  if (!draft.ok) return draft;
  if (store.getState().garment === null) {
    store.commands.newGarment(nameFromFile(file.name), preferredUnit());
  }
  store.actions.goTo('bring-in');
  bringIn.actions.layDraft(draft.value);
  const warning = reading.value.warnings.join(' ');
  if (warning !== '') store.actions.notify({ tone: 'warning', sentence: warning });
  return succeed(null);
}

/** The same door from inside a garment: a refusal becomes the notice. */
export function useFileDoor(): (file: File) => Promise<void> {
  const store = useAppStore();
  const bringIn = useBringInStore();
  return async (file) => {
    const opened = await openFile(file, store, bringIn);
    if (!opened.ok) store.actions.notify({ tone: 'refused', sentence: opened.sentence });
  };
}

/** Inches where the device speaks American English, else cm; the switch is one press away. */
export function preferredUnit(): 'cm' | 'in' {
  return navigator.language === 'en-US' ? 'in' : 'cm';
}
