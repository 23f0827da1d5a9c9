import { type Failure, fail } from '../../geometry/outcome';
import { svgLimits } from './limits';

const most = (count: number) => count.toLocaleString('en');

/** Drawings made to grow, or simply too much of one, found while walking. */
export const refusals = {
  depth: (): Failure =>
    fail(
      'svg-too-deep',
      'This file holds copies inside copies inside copies, far more than a drawing needs. Turn them into plain lines in the program that made it and save it again.',
    ),
  copies: (): Failure =>
    fail(
      'svg-too-many-copies',
      'This file repeats its parts so many times that it would never be finished. Turn the copies into plain lines in the program that made it and save it again.',
    ),
  segments: (): Failure =>
    fail(
      'svg-too-many-points',
      `This file holds more than ${most(svgLimits.segments)} points. Save only the piece, or simplify its lines in the program that made it, and open that.`,
    ),
  shapes: (): Failure =>
    fail(
      'svg-too-many-shapes',
      `This file holds more than ${most(svgLimits.shapes)} separate lines. Save only the piece into a file of its own and open that.`,
    ),
} as const;
