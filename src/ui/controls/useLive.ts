import type { Outcome } from '../../geometry/outcome';
import type { Mode } from '../../store/appCommands';
import { useActions } from '../storeContext';

/**
 * What a field calls while something is typed, when it is kept, and when it is given up. A refusal is said under the
 * field, where the eye is, so the table does not say it a second time.
 */
export function useLive(set: (value: number, mode: Mode) => Outcome<unknown>) {
  const { dropPreview, notify } = useActions();
  const saidHere = (answer: Outcome<unknown>) => {
    if (!answer.ok) notify(null);
    return answer;
  };
  return {
    onPreview: (value: number) => saidHere(set(value, 'preview')),
    onCommit: (value: number) => saidHere(set(value, 'commit')),
    onDrop: dropPreview,
  };
}
