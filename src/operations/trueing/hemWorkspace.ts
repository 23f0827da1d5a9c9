import type { Point } from '../../geometry/point';
import { basisPowers, type SpanCount } from './hemSpline';

/** The fixed frame of one hem fit. Tangents are unit vectors along the travel from start to end. */
export interface HemFrame {
  readonly start: Point;
  readonly end: Point;
  readonly startTangent: Point;
  readonly endTangent: Point;
  readonly spans: SpanCount;
  /** Weight of fairness, no unit. */
  readonly fairness: number;
  /** Arc-bridged length of the hem, mm; makes the fairness term independent of size. */
  readonly length: number;
}

/** Half the gradient of the functional and half its second derivatives, row-major, lower triangles only. */
export interface Slopes {
  readonly gradient: Float64Array;
  /** First-order (Gauss-Newton) second derivatives: never negative. */
  readonly normal: Float64Array;
  /** Full second derivatives. */
  readonly hessian: Float64Array;
}

export function emptySlopes(unknowns: number): Slopes {
  return {
    gradient: new Float64Array(unknowns),
    normal: new Float64Array(unknowns * unknowns),
    hessian: new Float64Array(unknowns * unknowns),
  };
}

/** The curve being fitted, in the form the sums want it. Shared by the closeness and the fairness sums. */
export interface CurveWorkspace {
  readonly spans: SpanCount;
  /** Basis functions as powers; see `basisPowers`. */
  readonly powers: Float64Array;
  /** Powers of x, then of y, of every span: 8 numbers a span. */
  readonly curve: Float64Array;
  /** Unknown i moves control `control[i]` along (`alongX[i]`, `alongY[i]`). */
  readonly control: Int32Array;
  readonly alongX: Float64Array;
  readonly alongY: Float64Array;
}

export function layOut(frame: HemFrame): CurveWorkspace {
  const { spans, startTangent, endTangent } = frame;
  const control = [1, spans + 1];
  const alongX = [startTangent.x, -endTangent.x];
  const alongY = [startTangent.y, -endTangent.y];
  for (let k = 2; k <= spans; k++) {
    control.push(k, k);
    alongX.push(1, 0);
    alongY.push(0, 1);
  }
  return {
    spans,
    powers: basisPowers(spans),
    curve: new Float64Array(8 * spans),
    control: Int32Array.from(control),
    alongX: Float64Array.from(alongX),
    alongY: Float64Array.from(alongY),
  };
}
