import { type Failure, fail } from '../../geometry/outcome';
import { dxfLimits } from './limits';

const most = (count: number) => count.toLocaleString('en');

/** Files made to grow, or simply too much of one. */
export const refusals = {
  large: (): Failure =>
    fail(
      'dxf-too-large',
      'This file is larger than 20 MB, far more than the lines of a pattern piece need. Save only the piece into a file of its own and open that.',
    ),
  pairs: (): Failure =>
    fail(
      'dxf-too-many-entries',
      `This file holds more than ${most(dxfLimits.pairs)} entries, far more than a pattern piece needs. Save only the piece into a file of its own and open that.`,
    ),
  depth: (): Failure =>
    fail(
      'dxf-too-deep',
      'This file holds blocks inside blocks inside blocks, far more than a drawing needs. Break them up (explode) in the program that made it and save it again.',
    ),
  copies: (): Failure =>
    fail(
      'dxf-too-many-copies',
      `This file draws more than ${most(dxfLimits.drawn)} parts, its repeated blocks counted each time. Save only the piece into a file of its own and open that.`,
    ),
  segments: (): Failure =>
    fail(
      'dxf-too-many-points',
      `This file holds more than ${most(dxfLimits.segments)} points. Save only the piece, or simplify its lines in the program that made it, and open that.`,
    ),
  shapes: (): Failure =>
    fail(
      'dxf-too-many-shapes',
      `This file holds more than ${most(dxfLimits.shapes)} separate lines. Save only the piece into a file of its own and open that.`,
    ),
  splines: (): Failure =>
    fail(
      'dxf-too-many-points',
      'This file holds curves (splines) of far more points than a pattern piece needs. Turn them into polylines, or simplify them, in the program that made it, and open that.',
    ),
  cutShort: (): Failure =>
    fail(
      'dxf-cut-short',
      'This file breaks off in the middle, so part of the drawing is missing. Copy or save it again from where it came.',
    ),
} as const;
