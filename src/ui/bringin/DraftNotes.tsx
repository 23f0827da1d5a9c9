import type { BringInDraft } from '../../store/bringIn';
import { useBringInStore } from '../storeContext';

/** How the drawing came to its size, and what was done to its lines: said once, quietly, before it becomes a piece. */
export function DraftNotes({ draft }: { readonly draft: BringInDraft }) {
  const { actions } = useBringInStore();
  const { scale, pageNotes = [], notes = [], outlineNote = null } = draft;
  const said = [...pageNotes, ...notes, outlineNote ?? ''].filter((sentence) => sentence !== '');
  return (
    <>
      {scale.kind === 'certain' && <p className="tray-note">{scale.sentence}</p>}
      {scale.kind === 'certain' && scale.unchecked && (
        <button
          type="button"
          className="button"
          onClick={() =>
            actions.layDraft({
              ...draft,
              scale: { kind: 'ask', sentence: scale.sentence, from: null, to: null, checks: scale },
            })
          }
        >
          Check one length
        </button>
      )}
      {said.map((sentence) => (
        <p key={sentence} className="tray-note">
          {sentence}
        </p>
      ))}
    </>
  );
}
