import { applyScale, type KnownLength, type ScaleAnswer } from '../../exchange/drawing/applyScale';
import type { DrawingReading } from '../../exchange/drawing/drawingReading';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { BringInDraft } from '../../store/bringIn';
import { draftShapes } from './draftShapes';
import { groupsOf } from './lineChoice';

/**
 * The draft at its true size, now that the maker has given one length. A second length, if given, is checked against it:
 * its error is told, and too large an error refuses the scale. Its lines are not joined yet.
 */
export function settleScale(draft: BringInDraft, answer: ScaleAnswer, check?: KnownLength): Outcome<BringInDraft> {
  if (draft.scale.kind !== 'ask') return succeed(draft);
  const { sentence, suggestions = [] } = draft.scale;
  const scaled = applyScale(readingOf(draft, { kind: 'ask', sentence, suggestions }), answer, check);
  if (!scaled.ok) return scaled;
  const { source, shapes: lines, marks, check: checked, warnings } = scaled.value;
  const said = [source, ...(checked === null ? [] : [checked.sentence]), ...warnings];
  return succeed({
    ...draft,
    lines,
    shapes: draftShapes(lines),
    ...groupsOf(lines),
    ...(marks === undefined ? {} : { marks }),
    scale: { kind: 'certain', sentence: said.join(' ') },
  });
}

/**
 * A draft whose file states its size, checked with one length the maker knows: the error is told, and one beyond what may
 * pass is refused. Nothing changes size.
 */
export function checkScale(draft: BringInDraft, known: KnownLength): Outcome<BringInDraft> {
  const stated = draft.scale.kind === 'ask' ? draft.scale.checks : undefined;
  if (stated === undefined) return succeed(draft);
  const reading = readingOf(draft, { kind: 'certain', mmPerUnit: 1, source: stated.sentence });
  const checked = applyScale(reading, { kind: 'stated' }, known);
  if (!checked.ok) return checked;
  const agrees = checked.value.check?.sentence.replace('The second length', 'Your length') ?? '';
  return succeed({ ...draft, scale: { kind: 'certain', sentence: `${stated.sentence} ${agrees}` } });
}

function readingOf({ lines = [], marks }: BringInDraft, scale: DrawingReading['scale']): DrawingReading {
  return { shapes: lines, scale, warnings: [], ...(marks === undefined ? {} : { marks }) };
}
