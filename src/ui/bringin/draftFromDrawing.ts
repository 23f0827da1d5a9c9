import { applyScale } from '../../exchange/drawing/applyScale';
import type { DrawingReading } from '../../exchange/drawing/drawingReading';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { BringInDraft } from '../../store/bringIn';
import { draftShapes } from './draftShapes';
import { groupsOf } from './lineChoice';
import { nameFromFile } from './nameFromFile';

/**
 * What was read from a drawing, laid down to be turned into a piece: at true size when the file states it, in the file's
 * own units (taken as mm for now) when it has to be asked.
 */
export function draftFromDrawing(reading: DrawingReading, fileName: string): Outcome<BringInDraft> {
  const { scale } = reading;
  const stated = scale.kind === 'certain' ? applyScale(reading, { kind: 'stated' }) : succeed(reading);
  if (!stated.ok) return stated;
  const { shapes: lines, marks } = stated.value;
  return succeed({
    source: fileName,
    name: nameFromFile(fileName),
    shapes: draftShapes(lines),
    lines,
    ...groupsOf(lines),
    ...(marks === undefined ? {} : { marks }),
    outline: null,
    path: null,
    corners: [],
    scale:
      scale.kind === 'certain'
        ? { kind: 'certain', sentence: scale.source }
        : { kind: 'ask', sentence: scale.sentence, from: null, to: null, suggestions: scale.suggestions },
  });
}
