import type { BringInDraft } from '../../store/bringIn';

/** How the drawing came to its size, and what was done to its lines: said once, quietly, before it becomes a piece. */
export function DraftNotes({ draft }: { readonly draft: BringInDraft }) {
  const { scale, notes = [], outlineNote = null } = draft;
  const said = [...(scale.kind === 'certain' ? [scale.sentence] : []), ...notes, outlineNote ?? ''];
  return said
    .filter((sentence) => sentence !== '')
    .map((sentence) => (
      <p key={sentence} className="tray-note">
        {sentence}
      </p>
    ));
}
