import { useBringIn, useBringInStore } from '../storeContext';

/** Takes the drawing off the table; the pages it was laid from come back, if there are any. */
export function PutAway({ label = 'Put this file away' }: { readonly label?: string }) {
  const { actions } = useBringInStore();
  const fromPages = useBringIn((state) => state.pages !== null);
  return (
    <button type="button" className="button button-plain" onClick={() => actions.layDraft(null)}>
      {fromPages ? 'Back to the pages' : label}
    </button>
  );
}
