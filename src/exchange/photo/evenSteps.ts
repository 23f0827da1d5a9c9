import type { Point } from '../../geometry/point';
import type { Chain } from './chain';

/** A place of the outline, and the index of the chain's place before it. */
export interface Step {
  readonly place: Point;
  readonly from: number;
}

/** Places about `step` apart along the chain, with every corner among them. */
export function everyStep(chain: Chain, corners: readonly number[], step: number): Step[] {
  const n = chain.xs.length;
  const starts = corners.length > 0 ? corners : [0];
  return starts.flatMap((from, c) => {
    const to = starts[(c + 1) % starts.length]!;
    const count = (to - from + n) % n || n;
    const xs = Float64Array.from({ length: count + 1 }, (_, k) => chain.xs[(from + k) % n]!);
    const ys = Float64Array.from({ length: count + 1 }, (_, k) => chain.ys[(from + k) % n]!);
    return openEvenly(xs, ys, step).map(({ place, from: k }) => ({ place, from: (from + k) % n }));
  });
}

/** Places along an open chain, its first among them, its last not. */
function openEvenly(xs: Float64Array, ys: Float64Array, step: number): Step[] {
  const along = new Float64Array(xs.length);
  for (let i = 1; i < xs.length; i++) along[i] = along[i - 1]! + Math.hypot(xs[i]! - xs[i - 1]!, ys[i]! - ys[i - 1]!);
  const whole = along[xs.length - 1]!;
  const count = Math.max(1, Math.round(whole / step));
  const steps: Step[] = [];
  let i = 0;
  for (let k = 0; k < count; k++) {
    const at = (k * whole) / count;
    while (i < xs.length - 2 && along[i + 1]! <= at) i++;
    const gap = along[i + 1]! - along[i]!;
    const t = gap > 0 ? (at - along[i]!) / gap : 0;
    const place = { x: xs[i]! + t * (xs[i + 1]! - xs[i]!), y: ys[i]! + t * (ys[i + 1]! - ys[i]!) };
    steps.push({ place, from: i });
  }
  return steps;
}
