import { gaussLegendre, type QuadratureRule } from '../../geometry/gaussLegendre';
import { norm } from '../../geometry/point';
import { type Segment, segmentDerivativeAt, segmentPointAt } from '../../geometry/segment';

/** One segment of a strip's hem as placed, travelled from the centre line to the side. */
export interface HemArc {
  readonly segment: Segment;
  /** Arc-bridged hem length from the centre end to the start of this arc, mm. */
  readonly from: number;
  /** Own length, mm. */
  readonly length: number;
  /** The strip it belongs to. */
  readonly panel: number;
}

/** What the hem curve should follow: the strips' hems, every point shifted outward by a linear ramp. */
export interface HemRun {
  readonly arcs: readonly HemArc[];
  /** Arc-bridged length of the whole hem, mm. */
  readonly length: number;
  /** +1 when outward is the quarter turn of the travel from centre to side, -1 when it is the other way. */
  readonly outward: 1 | -1;
  /** Outward shift at the centre end and at the side end, mm. */
  readonly shiftCentre: number;
  readonly shiftSide: number;
}

/** Weighted points to follow. `guess` is the fraction of the run, a first guess for the foot on the curve. */
export interface HemTarget {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly weight: Float64Array;
  readonly guess: Float64Array;
  /** The same points before the shift. */
  readonly bareX: Float64Array;
  readonly bareY: Float64Array;
}

/** The reference quadrature of the fit: 12 Gauss points to an arc. */
const exactRule = gaussLegendre(12);
/** For hems in many short arcs: the same curve to a hundred-thousandth of a mm, at half the cost. */
const shortArcRule = gaussLegendre(6);
const manyArcs = 12;
const coarseRules = [1, 2, 3, 4, 6, 8].map(gaussLegendre);
/** Enough points to choose among starts, however few the arcs. */
const coarsePoints = 24;

/** 12 Gauss points on every arc (6 when there are many), weighted by length: the sums that define the trued hem. */
export function exactTarget(run: HemRun): HemTarget {
  return sample(run, run.arcs.length > manyArcs ? shortArcRule : exactRule);
}

/** Few points, to choose among starts: about two dozen, at least one on every arc. */
export function coarseTarget(run: HemRun): HemTarget {
  const wanted = coarsePoints / run.arcs.length;
  return sample(run, coarseRules.find((rule) => rule.nodes.length >= wanted) ?? coarseRules[coarseRules.length - 1]!);
}

function sample(run: HemRun, rule: QuadratureRule): HemTarget {
  const perArc = rule.nodes.length;
  const count = perArc * run.arcs.length;
  const target: HemTarget = {
    count,
    x: new Float64Array(count),
    y: new Float64Array(count),
    weight: new Float64Array(count),
    guess: new Float64Array(count),
    bareX: new Float64Array(count),
    bareY: new Float64Array(count),
  };
  const ramp = (run.shiftSide - run.shiftCentre) / run.length;
  let at = 0;
  for (const arc of run.arcs) {
    let along = arc.from;
    for (let i = 0; i < perArc; i++) {
      const p = segmentPointAt(arc.segment, rule.nodes[i]!);
      const d = segmentDerivativeAt(arc.segment, rule.nodes[i]!);
      const speed = norm(d);
      const weight = rule.weights[i]! * speed;
      // Half the point's own weight: where the point stands along the arc, by the midpoint rule.
      const here = along + weight / 2;
      along += weight;
      const shift = (run.outward * (run.shiftCentre + ramp * here)) / speed;
      target.weight[at] = weight;
      target.guess[at] = here / run.length;
      target.bareX[at] = p.x;
      target.bareY[at] = p.y;
      target.x[at] = p.x - shift * d.y;
      target.y[at] = p.y + shift * d.x;
      at++;
    }
  }
  return target;
}
