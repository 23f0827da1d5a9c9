import { RedoSign, UndoSign } from '../controls/icons';
import { useActions, useApp } from '../storeContext';
import { useTakeBack } from '../useTakeBack';

export function HistoryButtons() {
  const last = useApp((state) => state.past.at(-1)?.label);
  const next = useApp((state) => state.future[0]?.label);
  const { undo, redo } = useActions();
  const { what, takeBack } = useTakeBack();
  const undone = what ?? last;
  const undoName = undone === undefined ? 'Undo' : `Undo: ${undone}`;
  const redoName = next === undefined ? 'Redo' : `Redo: ${next}`;
  return (
    <div className="history">
      <button
        type="button"
        className="icon-button"
        aria-label={undoName}
        title={undoName}
        disabled={undone === undefined}
        onClick={() => {
          if (!takeBack()) undo();
        }}
      >
        <UndoSign />
      </button>
      <button
        type="button"
        className="icon-button"
        aria-label={redoName}
        title={redoName}
        disabled={next === undefined}
        onClick={redo}
      >
        <RedoSign />
      </button>
    </div>
  );
}
