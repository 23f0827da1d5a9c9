import { useCallback } from 'react';
import { useApp, useAppStore, useBringIn, useBringInStore } from './storeContext';

/** What undo takes back while an outline is drawn or corrected, which the document knows nothing of. */
export function useTakeBack(): {
  /** For the maker: `the last point`; null where undo is the document's. */
  readonly what: string | null;
  /** True when there was something to take back. */
  readonly takeBack: () => boolean;
} {
  const store = useAppStore();
  const { actions } = useBringInStore();
  const here = useApp((state) => state.place === 'bring-in');
  const drawing = useBringIn(({ pen }) => pen.nodes.length > 0);
  const done = useBringIn(({ draft }) => draft?.earlier?.at(-1)?.what ?? null);
  const takeBack = useCallback(
    () => store.getState().place === 'bring-in' && actions.takeBackPoint(),
    [store, actions],
  );
  const what = drawing ? 'the last point' : done;
  return { what: here ? what : null, takeBack };
}
