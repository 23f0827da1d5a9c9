import { applyScale } from '../../exchange/drawing/applyScale';
import type { DrawingReading, DrawnShape } from '../../exchange/drawing/drawingReading';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { BringInDraft, DraftShape } from '../../store/bringIn';
import { nameFromFile } from './nameFromFile';
import { outlinesOf } from './outlinesOf';

/**
 * What was read from an SVG, laid down to be turned into a piece: at true size when the file states it, in the file's
 * own units (taken as mm for now) when it has to be asked.
 */
export function draftFromSvg(reading: DrawingReading, fileName: string): Outcome<BringInDraft> {
  const { scale } = reading;
  const stated = scale.kind === 'certain' ? applyScale(reading, { kind: 'stated' }) : null;
  if (stated !== null && !stated.ok) return stated;
  const shapes = (stated?.value ?? reading).shapes.map(
    (shape, index): DraftShape => ({
      id: shape.id,
      name: shapeName(shape, index),
      path: shape.path,
      closed: shape.closed,
      told: told(shape),
      ...(isName(shape.nearText) ? { nearText: shape.nearText } : {}),
    }),
  );
  const draft: BringInDraft = {
    source: fileName,
    name: nameFromFile(fileName),
    shapes,
    outline: null,
    path: null,
    corners: [],
    scale:
      scale.kind === 'certain'
        ? { kind: 'certain', sentence: scale.source }
        : { kind: 'ask', sentence: scale.sentence, from: null, to: null, suggestions: scale.suggestions },
  };
  return succeed(scale.kind === 'certain' ? outlinesOf(draft) : draft);
}

/** Longer words in a drawing tell how to sew it, not what it is called. */
const longestName = 48;

function isName(words: string | null): words is string {
  return words !== null && words.length <= longestName && /\p{L}/u.test(words);
}

/** What tells a shape from others like it, in words: sizes nested in one another differ by layer or dashes. */
function told({ layer, strokeDash }: DrawnShape): string {
  return [layer ?? '', strokeDash === null ? '' : 'dashed line'].filter((word) => word !== '').join(', ');
}

function shapeName(shape: DrawnShape, index: number): string {
  return shape.name ?? shape.nearText ?? (shape.layer === null ? `Line ${index + 1}` : `${shape.layer} ${index + 1}`);
}
