import { type Outcome, succeed } from '../../geometry/outcome';
import { draftFromDrawing } from './draftFromDrawing';
import type { Laid } from './laid';
import { openPages } from './pages/openPages';
import { readyDraft } from './readyDraft';
import { type Workshop, watched } from './watched';

/** Reads a drawing in the background, up to where the maker is asked something. Nothing on the table changes yet. */
export async function readDrawingFile(
  kind: 'svg' | 'dxf' | 'pdf',
  bytes: Uint8Array,
  file: File,
  workshop: Workshop,
): Promise<Outcome<Laid>> {
  if (kind === 'pdf') return openPages(bytes, file, workshop);
  const reading = await watched({ task: kind, bytes }, workshop);
  if (!reading.ok) return reading;
  const draft = draftFromDrawing(reading.value, file.name);
  if (!draft.ok) return draft;
  const ready = await readyDraft(draft.value, workshop);
  if (!ready.ok) return ready;
  return succeed({ lay: () => workshop.bringIn.actions.layDraft(ready.value), warnings: reading.value.warnings });
}
