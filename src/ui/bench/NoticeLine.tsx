import { useEffect } from 'react';
import { CloseSign } from '../controls/icons';
import { useActions, useApp } from '../storeContext';

const words = {
  done: { sign: '✓', word: 'Done' },
  warning: { sign: '!', word: 'Mind' },
  refused: { sign: '✕', word: 'Refused' },
} as const;

/** Long enough to read a sentence twice. */
const doneStays = 6000;

/** The one line in which the table speaks. Good news leaves by itself; a refusal stays until it is read. */
export function NoticeLine() {
  const notice = useApp((state) => state.notice);
  const { notify } = useActions();

  useEffect(() => {
    if (notice?.tone !== 'done') return;
    const timer = setTimeout(() => notify(null), doneStays);
    return () => clearTimeout(timer);
  }, [notice, notify]);

  return (
    <div className="notice-place" role="status" aria-live="polite">
      {notice !== null && (
        <div className={`notice notice-${notice.tone}`}>
          <span className="notice-sign" aria-hidden="true">
            {words[notice.tone].sign}
          </span>
          <p>
            <strong>{words[notice.tone].word}.</strong> {notice.sentence}
          </p>
          <button type="button" className="icon-button" aria-label="Put this notice away" onClick={() => notify(null)}>
            <CloseSign />
          </button>
        </div>
      )}
    </div>
  );
}
