import { Sheet } from '../controls/Sheet';
import { useBringIn } from '../storeContext';
import { shortName } from './nameFromFile';

/** Asked before something else takes the place of work that is not a piece yet. */
export function PutAwayAsked() {
  const question = useBringIn((state) => state.question);
  if (question === null) return null;
  const { lying, instead, answer } = question;
  const keep = () => answer(false);
  return (
    <Sheet title={`“${shortName(lying)}” is not a piece yet`} onClose={keep}>
      <p>What was done to it on the table so far would be put away.</p>
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
