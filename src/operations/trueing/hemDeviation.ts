import { gaussLegendre, type QuadratureRule } from '../../geometry/gaussLegendre';
import { norm } from '../../geometry/point';
import { segmentDerivativeAt, segmentPointAt } from '../../geometry/segment';
import { footFinder } from './curveFoot';
import type { HemFit } from './hemFit';
import { segmentPowers } from './hemSpline';
import type { HemArc, HemRun } from './hemTarget';

/** Places on an arc where the distance to the ramped target is looked at, and where that to the bare strips. */
const targetPlaces: readonly Place[] = placesOf(gaussLegendre(40));
const stripPlaces: readonly Place[] = Array.from({ length: 101 }, (_, i) => ({ t: i / 100, along: i / 100 }));

/** A parameter on an arc, and the parameter up to which the arc counts as behind it (the midpoint rule of the fit). */
interface Place {
  readonly t: number;
  readonly along: number;
}

function placesOf({ nodes, weights }: QuadratureRule): Place[] {
  let behind = 0;
  return nodes.map((t, i) => {
    const along = behind + weights[i]! / 2;
    behind += weights[i]!;
    return { t, along };
  });
}

export interface HemDeviation {
  /** Largest distance to the ramped target, and to the bare strip hems, mm. */
  readonly target: number;
  readonly strips: number;
  /** Root mean square distance to the ramped target, mm. */
  readonly rms: number;
}

/** How far the hem curve lies from what it follows. */
export function hemDeviation(fit: HemFit, run: HemRun): HemDeviation {
  const spans = fit.segments.length;
  const curve = segmentPowers(fit.segments);
  const finder = footFinder(curve, spans);
  const ramp = (run.shiftSide - run.shiftCentre) / run.length;
  let lastFoot = 0;
  let lastAlong = 0;
  const distanceAt = (arc: HemArc, place: Place, ramped: boolean, lengthTo: (t: number) => number): number => {
    const { t } = place;
    const along = arc.from + lengthTo(place.along);
    const p = segmentPointAt(arc.segment, t);
    const likely = (along / run.length) * spans;
    // From the last foot on: the places of an arc are near one another.
    const guess = Math.min(Math.max(lastFoot + ((along - lastAlong) / run.length) * spans, 0), spans);
    if (ramped) {
      const d = segmentDerivativeAt(arc.segment, t);
      const shift = (run.outward * (run.shiftCentre + ramp * along)) / norm(d);
      finder.find(p.x - shift * d.y, p.y + shift * d.x, guess, likely);
    } else {
      finder.find(p.x, p.y, guess, likely);
    }
    lastFoot = finder.foot;
    lastAlong = along;
    const { bx, by, dx, dy } = finder;
    // Measured square to the curve, so that what is left of the search along it does not count.
    return finder.atEnd ? Math.sqrt(bx * bx + by * by) : Math.abs(dx * by - dy * bx) / Math.sqrt(dx * dx + dy * dy);
  };
  const ownLength = run.arcs.reduce((sum, arc) => sum + arc.length, 0);
  const { x, y, bareX, bareY } = fit.target;
  return {
    target: farthest(run.arcs, roughly(fit, curve, run.arcs.length, x, y), (arc, lengthTo) =>
      largest(targetPlaces, (place) => distanceAt(arc, place, true, lengthTo)),
    ),
    strips: farthest(run.arcs, roughly(fit, curve, run.arcs.length, bareX, bareY), (arc, lengthTo) =>
      largest(stripPlaces, (place) => distanceAt(arc, place, false, lengthTo)),
    ),
    rms: Math.sqrt(fit.closeness / ownLength),
  };
}

/** Arcs whose distance at the fitted points comes within this part of the largest are looked at closely. */
const worthALook = 0.6;
const fewArcs = 12;

function farthest(
  arcs: readonly HemArc[],
  rough: Float64Array,
  onArc: (arc: HemArc, lengthTo: (t: number) => number) => number,
): number {
  const most = rough.reduce((a, b) => Math.max(a, b), 0);
  let result = 0;
  arcs.forEach((arc, index) => {
    if (arcs.length > fewArcs && rough[index]! < worthALook * most) return;
    result = Math.max(result, onArc(arc, lengthWithin(arc)));
  });
  return result;
}

/** Largest distance of every arc at the points of the fit, from the feet found there. */
function roughly(fit: HemFit, curve: Float64Array, arcs: number, x: Float64Array, y: Float64Array): Float64Array {
  const rough = new Float64Array(arcs);
  const perArc = fit.target.count / arcs;
  const spans = fit.segments.length;
  for (let i = 0; i < fit.target.count; i++) {
    const foot = fit.feet[i]!;
    const s = Math.min(Math.floor(foot), spans - 1);
    const u = foot - s;
    const c = 8 * s;
    const dx = curve[c]! + u * (curve[c + 1]! + u * (curve[c + 2]! + u * curve[c + 3]!)) - x[i]!;
    const dy = curve[c + 4]! + u * (curve[c + 5]! + u * (curve[c + 6]! + u * curve[c + 7]!)) - y[i]!;
    const arc = Math.floor(i / perArc);
    rough[arc] = Math.max(rough[arc]!, Math.sqrt(dx * dx + dy * dy));
  }
  return rough;
}

/** Length of an arc up to t, from a parabola through its speeds at both ends and the middle; exact over the whole. */
function lengthWithin(arc: HemArc): (t: number) => number {
  const { segment, length } = arc;
  if (segment.kind === 'line') return (t) => t * length;
  const v0 = norm(segmentDerivativeAt(segment, 0));
  const v1 = norm(segmentDerivativeAt(segment, 0.5));
  const v2 = norm(segmentDerivativeAt(segment, 1));
  const whole = (v0 + 4 * v1 + v2) / 6;
  const b = (4 * v1 - 3 * v0 - v2) / 2;
  const c = (2 * v0 - 4 * v1 + 2 * v2) / 3;
  return (t) => (length * t * (v0 + t * (b + t * c))) / whole;
}

/** The largest value over the places: looked for at five of them, then uphill from the best. Gentle functions only. */
function largest(places: readonly Place[], value: (place: Place) => number): number {
  const last = places.length - 1;
  let best = 0;
  let most = value(places[0]!);
  for (const part of [0.25, 0.5, 0.75, 1]) {
    const at = Math.round(part * last);
    const here = value(places[at]!);
    if (here > most) {
      most = here;
      best = at;
    }
  }
  for (const way of [-1, 1]) {
    for (let at = best + way; at >= 0 && at <= last; at += way) {
      const here = value(places[at]!);
      if (here <= most) break;
      most = here;
      best = at;
    }
  }
  return most;
}
