import type { Point } from '../../geometry/point';
import { type CubicSegment, cubic } from '../../geometry/segment';

/**
 * Largest turn covered by one cubic. The usual cubic for a turn q lies within (2/27) r sin^6(q/4) / cos^2(q/4) of its
 * arc, so at 22.5 degrees within 6.7e-8 r: 0.00007 mm on a radius of 1,000 mm (checked in the tests, closed form).
 */
const largestTurn = Math.PI / 8;

/** A part of an ellipse: centre, the two half axes as vectors, where it starts and how far it turns, radians. */
export interface EllipseArc {
  readonly centre: Point;
  readonly axisX: Point;
  readonly axisY: Point;
  readonly from: number;
  readonly sweep: number;
}

/** Cubics along an arc. `start` and `end` are used exactly, so that neighbours meet without a gap. */
export function arcCubics(arc: EllipseArc, start: Point, end: Point): CubicSegment[] {
  // The small allowance keeps a quarter turn, known only to rounding, from costing a fifth cubic.
  const count = Math.max(1, Math.ceil(Math.abs(arc.sweep) / largestTurn - 1e-9));
  const step = arc.sweep / count;
  const handle = (4 / 3) * Math.tan(step / 4);
  const cubics: CubicSegment[] = [];
  let here = start;
  for (let i = 0; i < count; i++) {
    const a0 = arc.from + i * step;
    const a1 = arc.from + (i + 1) * step;
    const there = i === count - 1 ? end : onArc(arc, Math.cos(a1), Math.sin(a1));
    const c0 = onArc(arc, Math.cos(a0) - handle * Math.sin(a0), Math.sin(a0) + handle * Math.cos(a0));
    const c1 = onArc(arc, Math.cos(a1) + handle * Math.sin(a1), Math.sin(a1) - handle * Math.cos(a1));
    cubics.push(cubic(here, c0, c1, there));
    here = there;
  }
  return cubics;
}

function onArc(arc: EllipseArc, c: number, s: number): Point {
  return {
    x: arc.centre.x + c * arc.axisX.x + s * arc.axisY.x,
    y: arc.centre.y + c * arc.axisX.y + s * arc.axisY.y,
  };
}

/**
 * The arc an `A` command means, from its end points, radii, axis turn (degrees) and the two flags, by the formulas of
 * SVG 2, appendix "Elliptical arc implementation notes" (radii too small to reach are grown until they do).
 * Null when the arc is nothing (same end points) or a straight line (a radius of 0).
 */
export function arcFromEnds(
  start: Point,
  end: Point,
  radiusX: number,
  radiusY: number,
  axisDegrees: number,
  large: boolean,
  clockwise: boolean,
): EllipseArc | null {
  let rx = Math.abs(radiusX);
  let ry = Math.abs(radiusY);
  if (rx === 0 || ry === 0 || (start.x === end.x && start.y === end.y)) return null;
  const tilt = (axisDegrees % 360) * (Math.PI / 180);
  const c = Math.cos(tilt);
  const s = Math.sin(tilt);
  const hx = (start.x - end.x) / 2;
  const hy = (start.y - end.y) / 2;
  // Half the chord in the ellipse's own frame, each axis measured in its radius: the ellipse becomes the unit circle.
  let ux = (c * hx + s * hy) / rx;
  let uy = (-s * hx + c * hy) / ry;
  const reach = Math.hypot(ux, uy);
  if (!Number.isFinite(reach) || reach === 0) return null;
  if (reach > 1) {
    rx *= reach;
    ry *= reach;
    ux /= reach;
    uy /= reach;
  }
  const half = Math.min(1, reach);
  const rise = reach >= 1 ? 0 : Math.sqrt(1 - reach * reach);
  const off = rise / half;
  const side = large === clockwise ? -1 : 1;
  const mx = side * off * uy;
  const my = -side * off * ux;
  const from = Math.atan2(uy - my, ux - mx);
  // From chord and rise, not from a difference of two headings, which for a tiny arc can round to the wrong sign.
  const span = 2 * Math.atan2(half, rise);
  const sweep = (large ? 2 * Math.PI - span : span) * (clockwise ? 1 : -1);
  const axisX = { x: rx * c, y: rx * s };
  const axisY = { x: -ry * s, y: ry * c };
  const centre = {
    x: (start.x + end.x) / 2 + mx * axisX.x + my * axisY.x,
    y: (start.y + end.y) / 2 + mx * axisX.y + my * axisY.y,
  };
  return { centre, axisX, axisY, from, sweep };
}
