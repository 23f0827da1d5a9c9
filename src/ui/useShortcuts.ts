import { useEffect } from 'react';
import { useAppStore } from './storeContext';

/** Undo and redo by keyboard, everywhere but inside a text being typed, where they belong to the text. */
export function useShortcuts(takeBackPoint: () => boolean): void {
  const store = useAppStore();
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      const wanted = key === 'z' ? (event.shiftKey ? 'redo' : 'undo') : key === 'y' && !event.shiftKey ? 'redo' : null;
      if (wanted === null || typesHere(event.target)) return;
      event.preventDefault();
      if (wanted === 'redo') store.actions.redo();
      else if (!takeBackPoint()) store.actions.undo();
    };
    window.addEventListener('keydown', onKeyDown);
    return () => window.removeEventListener('keydown', onKeyDown);
  }, [store, takeBackPoint]);
}

/** A field whose text differs from what was last kept has its own undo; a settled one leaves undo to the document. */
function typesHere(target: EventTarget | null): boolean {
  if (target instanceof HTMLTextAreaElement) return true;
  return target instanceof HTMLInputElement && target.type === 'text' && target.dataset.typing === 'true';
}
