import { affine } from '../drawing/affine';
import { type GraphicsState, readMatrix, type TextState, withText } from './graphicsState';
import { listAt, numberAt, op } from './operators';
import type { TextRuns } from './textRuns';

const upright = affine(1, 0, 0, 1, 0, 0);

/**
 * What an operator about text does (ISO 32000-1, 9.3 and 9.4): the state after it, or null when it is about something
 * else. Words shown go to `runs`; none where they only make a mask.
 */
export function afterText(
  operator: number,
  args: unknown,
  state: GraphicsState,
  runs: TextRuns | null,
): GraphicsState | null {
  const value = numberAt(args, 0);
  const second = numberAt(args, 1);
  const set = (number: number, change: Partial<TextState>) =>
    Number.isFinite(number) ? withText(state, change) : state;
  switch (operator) {
    case op.beginText:
      runs?.place(upright);
      return state;
    case op.setTextMatrix:
      runs?.place(readMatrix(listAt(args, 0) ?? args) ?? upright);
      return state;
    case op.moveText:
      runs?.move(value, second);
      return state;
    case op.setLeadingMoveText:
      runs?.move(value, second);
      return set(second, { leading: -second });
    case op.nextLine:
      runs?.move(0, -state.text.leading);
      return state;
    case op.showText:
      runs?.show(listAt(args, 0), state);
      return state;
    case op.setFont:
      return set(second, { size: second });
    case op.setCharSpacing:
      return set(value, { charSpacing: value });
    case op.setWordSpacing:
      return set(value, { wordSpacing: value });
    case op.setHScale:
      return set(value, { stretch: value / 100 });
    case op.setLeading:
      return set(value, { leading: value });
    case op.setTextRenderingMode:
      return withText(state, { invisible: value === 3 || value === 7 });
    default:
      return null;
  }
}
