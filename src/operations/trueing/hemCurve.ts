import { endTangent, startTangent } from '../../geometry/path';
import { angleBetween, type Point, turn } from '../../geometry/point';
import type { CubicSegment } from '../../geometry/segment';
import { hemDeviationLimit } from '../../geometry/tolerance';
import type { HemCurve } from '../../pattern/recipe';
import { bothUnits } from './bothUnits';
import { type HemBend, hemBend } from './hemBend';
import { type HemDeviation, hemDeviation } from './hemDeviation';
import { fitHem, type HemFit } from './hemFit';
import type { HemRun } from './hemTarget';
import type { HemFrame } from './hemWorkspace';
import { type OpenedSides, squareToSeam, towardsSide } from './openedSides';

/** The corners between which the hem is drawn. Directions are those of the centre line down and the seam up. */
export interface HemCorners {
  readonly centre: Point;
  readonly down: Point;
  readonly side: Point;
  readonly up: Point;
}

export interface TrueHem {
  /** From the centre line to the side. */
  readonly segments: readonly CubicSegment[];
  readonly handles: { readonly centre: number; readonly side: number };
  readonly deviation: HemDeviation;
  readonly bend: HemBend;
  readonly warnings: readonly string[];
}

/** How often fairness may be raised tenfold against an unwanted change of bend. */
const fairnessRaises = 3;

/**
 * Draws the hem as one fair curve between its corners. When the curve changes its bend where the strips do not, it is
 * drawn again with more weight on fairness for as long as it stays near the strips; what remains is reported.
 */
export function trueHem(sides: OpenedSides, corners: HemCorners, step: HemCurve, run: HemRun): TrueHem {
  const frame = hemFrame(sides, corners, step, run);
  let best = drawn(frame, run, step);
  for (let raise = 1; raise <= fairnessRaises && best.bend.unwanted > 0; raise++) {
    const fairer = drawn({ ...frame, fairness: step.fairness * 10 ** raise }, run, step);
    if (fairer.deviation.target > hemDeviationLimit) break;
    if (fairer.bend.unwanted < best.bend.unwanted) best = fairer;
  }
  const { fit, deviation, bend } = best;
  const warnings: string[] = [];
  if (deviation.target > hemDeviationLimit) {
    const advice =
      step.spans < 3
        ? 'Allow the curve more spans, or open the slash lines more evenly.'
        : 'Open the slash lines more evenly.';
    warnings.push(`The hem curve lies up to ${bothUnits(deviation.target)} off the strips. ${advice}`);
  }
  if (bend.unwanted > 0) {
    warnings.push(
      'The hem curve changes its bend where the strips do not. Keep the corners as they were, move the handles, or open the slash lines more evenly.',
    );
  }
  return {
    segments: fit.segments,
    handles: { centre: fit.handles.start, side: fit.handles.end },
    deviation,
    bend,
    warnings,
  };
}

function drawn(frame: HemFrame, run: HemRun, step: HemCurve): { fit: HemFit; deviation: HemDeviation; bend: HemBend } {
  const fit = fitHem({ frame, run, handles: { start: step.handles.centre, end: step.handles.side } });
  return { fit, deviation: hemDeviation(fit, run), bend: hemBend(fit.segments, run, frame) };
}

function hemFrame(sides: OpenedSides, corners: HemCorners, step: HemCurve, run: HemRun): HemFrame {
  const { block, outward } = sides;
  let startDirection = towardsSide(corners.down, outward);
  let endDirection = squareToSeam(corners.up, outward);
  if (step.corners === 'keep') {
    const squareStart = towardsSide(endTangent(block.centre), outward);
    const squareEnd = squareToSeam(startTangent(block.side), outward);
    startDirection = turn(startDirection, angleBetween(squareStart, startTangent(block.hem)));
    endDirection = turn(endDirection, angleBetween(squareEnd, endTangent(block.hem)));
  }
  return {
    start: corners.centre,
    end: corners.side,
    startTangent: startDirection,
    endTangent: endDirection,
    spans: step.spans,
    fairness: step.fairness,
    length: run.length,
  };
}
