import { curvatureAt } from '../../src/geometry/curvature';
import { gaussLegendre } from '../../src/geometry/gaussLegendre';
import { nearestOnSegment } from '../../src/geometry/nearest';
import { add, norm, type Point, quarterTurn, scale, unit } from '../../src/geometry/point';
import { type CubicSegment, cubic, segmentDerivativeAt, segmentPointAt } from '../../src/geometry/segment';
import type { HemRun } from '../../src/operations/trueing/hemTarget';
import type { HemFrame } from '../../src/operations/trueing/hemWorkspace';

/**
 * The functional of a one-span hem, written again from docs/maths/trueing.md with the general tools of the geometry
 * floor and none of the fit's own code: nearest points from all roots, curvature by its own formula, its slope by
 * central differences. Slow; for checking the fit.
 */
export function hemFunctional(frame: HemFrame, run: HemRun): (start: number, end: number) => number {
  const points = shiftedPoints(run);
  const rule = gaussLegendre(8);
  return (start, end) => {
    const curve = hemCubic(frame, start, end);
    let sum = 0;
    for (const { at, weight } of points) sum += weight * nearestOnSegment(curve, at).distance ** 2;
    let unfair = 0;
    rule.nodes.forEach((u, i) => {
      const h = 1e-4;
      const speed = norm(segmentDerivativeAt(curve, u));
      const slope =
        (curvatureAt(curve, u - 2 * h) -
          8 * curvatureAt(curve, u - h) +
          8 * curvatureAt(curve, u + h) -
          curvatureAt(curve, u + 2 * h)) /
        (12 * h * speed);
      unfair += rule.weights[i]! * slope * slope * speed;
    });
    return sum + frame.fairness * frame.length ** 6 * unfair;
  };
}

export function hemCubic(frame: HemFrame, start: number, end: number): CubicSegment {
  return cubic(
    frame.start,
    add(frame.start, scale(frame.startTangent, start)),
    add(frame.end, scale(frame.endTangent, -end)),
    frame.end,
  );
}

/** 12 Gauss points on every arc, shifted outward by the linear ramp. */
function shiftedPoints(run: HemRun): { readonly at: Point; readonly weight: number }[] {
  const rule = gaussLegendre(12);
  return run.arcs.flatMap(({ segment, from }) => {
    let behind = from;
    return rule.nodes.map((t, i) => {
      const d = segmentDerivativeAt(segment, t);
      const weight = rule.weights[i]! * norm(d);
      const along = behind + weight / 2;
      behind += weight;
      const shift = run.shiftCentre + ((run.shiftSide - run.shiftCentre) * along) / run.length;
      return { at: add(segmentPointAt(segment, t), scale(unit(quarterTurn(d)), run.outward * shift)), weight };
    });
  });
}

/**
 * Downhill simplex of Nelder and Mead (Computer Journal 7, 1965) with the usual coefficients; no derivatives. Restarted
 * from its own answer until that no longer helps.
 */
export function nelderMead(
  value: (x: readonly number[]) => number,
  start: readonly number[],
  size: number,
): { readonly x: readonly number[]; readonly value: number } {
  let best = { x: start, value: value(start) };
  for (let restart = 0; restart < 8; restart++) {
    const found = simplexRun(value, best.x, size / 4 ** restart);
    const gain = best.value - found.value;
    if (found.value < best.value) best = found;
    if (restart > 1 && gain <= 1e-15 * Math.abs(best.value)) break;
  }
  return best;
}

function simplexRun(value: (x: readonly number[]) => number, start: readonly number[], size: number) {
  const n = start.length;
  const at = (x: readonly number[]) => ({ x, value: value(x) });
  let simplex = [at(start), ...start.map((_, i) => at(start.map((v, k) => (k === i ? v + size : v))))];
  const blend = (centre: readonly number[], x: readonly number[], k: number) =>
    centre.map((c, i) => c + k * (c - x[i]!));
  for (let round = 0; round < 2000; round++) {
    simplex = simplex.sort((a, b) => a.value - b.value);
    const worst = simplex[n]!;
    const width = Math.max(...worst.x.map((v, i) => Math.abs(v - simplex[0]!.x[i]!)));
    if (width < 1e-7) break;
    const centre = start.map((_, i) => simplex.slice(0, n).reduce((sum, { x }) => sum + x[i]!, 0) / n);
    const reflected = at(blend(centre, worst.x, 1));
    if (reflected.value < simplex[0]!.value) {
      const expanded = at(blend(centre, worst.x, 2));
      simplex[n] = expanded.value < reflected.value ? expanded : reflected;
    } else if (reflected.value < simplex[n - 1]!.value) {
      simplex[n] = reflected;
    } else {
      const contracted = at(blend(centre, worst.x, reflected.value < worst.value ? 0.5 : -0.5));
      if (contracted.value < Math.min(worst.value, reflected.value)) simplex[n] = contracted;
      else simplex = simplex.map((p, i) => (i === 0 ? p : at(p.x.map((v, k) => (v + simplex[0]!.x[k]!) / 2))));
    }
  }
  return simplex.sort((a, b) => a.value - b.value)[0]!;
}
