import type { DrawingScale, DrawnShape } from '../drawing/drawingReading';
import { controlBox } from '../drawing/nearText';
import { otherUnits } from './statedScale';

/** mm. Cloth lies at most 3 m wide (common practice, no source); a single line much longer than that is in another unit. */
const longestLine = 5000;

/**
 * The scale a file states, unless a line of it would be longer than any piece: programs that draw in millimetres and call
 * them inches make a piece 25 times too large. Then it is asked for.
 */
export function believed(scale: DrawingScale, shapes: readonly DrawnShape[]): DrawingScale {
  if (scale.kind === 'ask') return scale;
  let longest = 0;
  for (const { path } of shapes) {
    const box = controlBox(path);
    longest = Math.max(longest, (box.maxX - box.minX) * scale.mmPerUnit, (box.maxY - box.minY) * scale.mmPerUnit);
  }
  if (longest <= longestLine) return scale;
  return {
    kind: 'ask',
    sentence: `At the unit the file states, a line in it would be ${(longest / 1000).toFixed(1)} m long. Give one length you know.`,
    suggestions: otherUnits(scale.mmPerUnit),
  };
}
