import { applyScale, type KnownLength, type ScaleAnswer } from '../../exchange/drawing/applyScale';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { BringInDraft } from '../../store/bringIn';
import { outlinesOf } from './outlinesOf';

/**
 * The draft at its true size, now that the maker has given one length. A second length, if given, is checked against it:
 * its error is told, and too large an error refuses the scale.
 */
export function settleScale(draft: BringInDraft, answer: ScaleAnswer, check?: KnownLength): Outcome<BringInDraft> {
  if (draft.scale.kind !== 'ask') return succeed(draft);
  const { sentence, suggestions = [] } = draft.scale;
  const scaled = applyScale(
    {
      shapes: draft.shapes.map((shape) => ({
        ...shape,
        strokeDash: null,
        colour: null,
        layer: null,
        nearText: null,
      })),
      scale: { kind: 'ask', sentence, suggestions },
      warnings: [],
    },
    answer,
    check,
  );
  if (!scaled.ok) return scaled;
  const shapes = draft.shapes.map((shape, index) => ({
    ...shape,
    path: scaled.value.shapes[index]?.path ?? shape.path,
  }));
  const { source, check: checked, warnings } = scaled.value;
  const said = [source, ...(checked === null ? [] : [checked.sentence]), ...warnings];
  return succeed(outlinesOf({ ...draft, shapes, scale: { kind: 'certain', sentence: said.join(' ') } }));
}
