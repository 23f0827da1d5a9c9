import { Sheet } from '../controls/Sheet';
import { useBringIn } from '../storeContext';

/** Asked before something else takes the place of work that would be lost. */
export function PutAwayAsked() {
  const question = useBringIn((state) => state.question);
  if (question === null) return null;
  const { title, warning, instead, answer } = question;
  const keep = () => answer(false);
  return (
    <Sheet title={title} onClose={keep}>
      <p>{warning}</p>
      <div className="dialog-foot">
        <button type="button" className="button" onClick={() => answer(true)}>
          {instead}
        </button>
        <button type="button" className="button button-main" onClick={keep}>
          Keep at it
        </button>
      </div>
    </Sheet>
  );
}
