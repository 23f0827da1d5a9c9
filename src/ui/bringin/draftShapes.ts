import type { DrawnShape } from '../../exchange/drawing/drawingReading';
import type { DraftShape } from '../../store/bringIn';

/** The lines of a drawing as they are shown on the table. */
export function draftShapes(lines: readonly DrawnShape[]): readonly DraftShape[] {
  return lines.map(
    (shape, index): DraftShape => ({
      id: shape.id,
      name: shapeName(shape, index),
      path: shape.path,
      closed: shape.closed,
      told: told(shape),
      ...dashOf(shape),
      ...(isName(shape.nearText) ? { nearText: shape.nearText } : {}),
    }),
  );
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

function dashOf({ strokeDash }: DrawnShape): { readonly dash?: readonly number[] } {
  const dash = dashLengths(strokeDash);
  return dash.length === 0 ? {} : { dash };
}

/** A dash pattern as written, as lengths in turn; none where it cannot be read. */
export function dashLengths(strokeDash: string | null): readonly number[] {
  const lengths = (strokeDash ?? '').split(/[\s,]+/).map(Number.parseFloat);
  return lengths.length > 0 && lengths.every((length) => length >= 0) && lengths.some((length) => length > 0)
    ? lengths
    : [];
}
