import { applyScale, type ScaleAnswer } from '../../exchange/svg/applyScale';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { BringInDraft } from '../../store/bringIn';
import { chooseOutline } from './chooseOutline';

/** The draft at its true size, now that the maker has given one length. */
export function settleScale(draft: BringInDraft, answer: ScaleAnswer): Outcome<BringInDraft> {
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
  );
  if (!scaled.ok) return scaled;
  const shapes = draft.shapes.map((shape, index) => ({
    ...shape,
    path: scaled.value.shapes[index]?.path ?? shape.path,
  }));
  const settled: BringInDraft = {
    ...draft,
    shapes,
    scale: { kind: 'certain', sentence: [scaled.value.source, ...scaled.value.warnings].join(' ') },
  };
  const closed = shapes.filter((shape) => shape.closed);
  const outline = shapes.find((shape) => shape.id === draft.outline) ?? (closed.length === 1 ? closed[0] : undefined);
  return succeed(outline === undefined ? settled : chooseOutline(settled, outline));
}
