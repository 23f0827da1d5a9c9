import { readProject } from '../../exchange/project/projectFile';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { AppStore } from '../../store/appCommands';
import { useAppStore } from '../storeContext';
import { fileKind, headBytes } from './fileKind';
import { tooLarge } from './fileLimits';
import { mayLeave } from './mayLeave';
import { mayPutAway } from './mayPutAway';
import { nameFromFile, shortName } from './nameFromFile';
import { preferredUnit } from './preferredUnit';
import { useWorkshop } from './readerContext';
import type { Workshop } from './watched';

/** What the picker of files offers; what a file is, is told by what is in it. */
export const drawingsAndGarments =
  '.json,.pdf,.svg,.dxf,application/json,application/pdf,image/svg+xml,image/vnd.dxf,application/dxf';
export const pictures = 'image/*,.jpg,.jpeg,.png,.webp,.heic,.avif';

const unreadable = fail('file-unreadable', 'This file could not be read. Try it once more.');
const canBeOpened =
  'What can be opened: a garment saved here, a PDF, an SVG or DXF drawing, and a photograph or scan as JPEG, PNG or WebP.';

/**
 * Opens whatever file the maker hands in: a saved garment takes the table, a drawing or picture is laid down to be
 * brought in. What is refused or stopped leaves everything as it was.
 */
export async function openFile(file: File, store: AppStore, workshop: Workshop): Promise<Outcome<null>> {
  const head = await bytesOf(file.slice(0, headBytes));
  if (head === null) return unreadable;
  const kind = fileKind(head, file.name);
  const refused = tooLarge(kind, file.size);
  if (refused !== null) return refused;
  switch (kind) {
    case 'empty':
      return fail('file-empty', `“${shortName(file.name)}” is empty. Save it again where it was made, then open it.`);
    case 'unknown':
      return fail('file-unknown', `“${shortName(file.name)}” is nothing that can be read here. ${canBeOpened}`);
    case 'mislabelled':
      return fail(
        'file-mislabelled',
        `“${shortName(file.name)}” does not hold what its name says: it is damaged, or another kind of file. Save it again where it was made. ${canBeOpened}`,
      );
    case 'picture': {
      const { openPicture } = await import('./photo/openPicture');
      return openPicture(file, store, workshop.bringIn);
    }
    case 'garment':
      return openGarment(file, store, workshop);
    default:
      return openDrawing(kind, file, store, workshop);
  }
}

async function openGarment(file: File, store: AppStore, { bringIn }: Workshop): Promise<Outcome<null>> {
  const text = await file.text().catch(() => null);
  if (text === null) return unreadable;
  const garment = readProject(text);
  if (!garment.ok) return garment;
  if (!(await mayLeave(store, bringIn, 'Open the other garment'))) {
    return fail('cancelled', 'Stopped. Nothing was changed.');
  }
  clearTable({ bringIn });
  // Also what still lies under a piece of the garment before.
  bringIn.actions.layPicture(null);
  store.actions.openGarment(garment.value);
  return succeed(null);
}

async function openDrawing(
  kind: 'svg' | 'dxf' | 'pdf',
  file: File,
  store: AppStore,
  workshop: Workshop,
): Promise<Outcome<null>> {
  const bytes = await bytesOf(file);
  if (bytes === null) return unreadable;
  // What lays drawings down is not needed until one is opened.
  const { readDrawingFile } = await import('./openDrawing');
  const laid = await readDrawingFile(kind, bytes, file, workshop);
  if (!laid.ok) return laid;
  if ('scan' in laid.value) {
    const { openScan } = await import('./openScan');
    const opened = await openScan(laid.value.scan, store, workshop);
    if (opened.ok) mind(store, laid.value.warnings);
    return opened;
  }
  if (store.getState().garment === null) store.commands.newGarment(nameFromFile(file.name), preferredUnit());
  store.actions.goTo('bring-in');
  clearTable(workshop);
  laid.value.lay();
  mind(store, laid.value.warnings);
  return succeed(null);
}

function mind(store: AppStore, warnings: readonly string[]): void {
  if (warnings.length > 0) store.actions.notify({ tone: 'warning', sentence: warnings.join(' ') });
}

async function bytesOf(part: Blob): Promise<Uint8Array | null> {
  const buffer = await part.arrayBuffer().catch(() => null);
  return buffer === null ? null : new Uint8Array(buffer);
}

/** Takes everything off that is not a piece yet. */
function clearTable({ bringIn }: Pick<Workshop, 'bringIn'>): void {
  bringIn.actions.layDraft(null);
  bringIn.actions.layPages(null);
  if (bringIn.getState().picture !== null) bringIn.actions.layPicture(null);
}

/** The same door from inside a garment: unfinished work is asked about first, and a refusal becomes the notice. */
export function useFileDoor(): (file: File) => Promise<void> {
  const store = useAppStore();
  const workshop = useWorkshop();
  return async (file) => {
    if (!(await mayPutAway(workshop.bringIn, 'Open the other file'))) return;
    const opened = await openFile(file, store, workshop);
    if (opened.ok) return;
    store.actions.notify({ tone: opened.code === 'cancelled' ? 'done' : 'refused', sentence: opened.sentence });
  };
}
