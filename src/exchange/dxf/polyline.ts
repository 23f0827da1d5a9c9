import { distance, type Point } from '../../geometry/point';
import { line, type Segment } from '../../geometry/segment';
import { arcCubics } from '../drawing/arc';
import { type Entry, eachPair, hasFlag, numberIn } from './pairs';

/** A point of a polyline and how far the side that leaves it bulges: the tangent of a quarter of its turn, 0 when straight. */
export interface Corner extends Point {
  readonly bulge: number;
}

/** Ratio. A side that bulges less is straight to within a thousandth of a micrometre on a metre. */
const flat = 1e-9;

/** Lines and arcs from corner to corner; a closed one comes back to the first. Sides without length are left out. */
export function polylineSegments(corners: readonly Corner[], closed: boolean): Segment[] {
  const segments: Segment[] = [];
  const sides = closed ? corners.length : corners.length - 1;
  for (let i = 0; i < sides; i++) {
    const from = corners[i]!;
    const to = corners[(i + 1) % corners.length]!;
    if (from.x === to.x && from.y === to.y) continue;
    segments.push(...side(from, to, from.bulge));
  }
  return segments;
}

/** One side: straight, or the arc whose included angle is 4 atan(bulge), turning from x towards y when positive. */
function side(from: Point, to: Point, bulge: number): Segment[] {
  const start = { x: from.x, y: from.y };
  const end = { x: to.x, y: to.y };
  if (Math.abs(bulge) < flat) return [line(start, end)];
  const chord = { x: end.x - start.x, y: end.y - start.y };
  // From the chord's middle to the centre, along the chord's left normal, in chords.
  const off = (1 - bulge * bulge) / (4 * bulge);
  const centre = { x: (start.x + end.x) / 2 - off * chord.y, y: (start.y + end.y) / 2 + off * chord.x };
  const radius = (distance(start, end) * (1 + bulge * bulge)) / (4 * Math.abs(bulge));
  const arc = {
    centre,
    axisX: { x: radius, y: 0 },
    axisY: { x: 0, y: radius },
    from: Math.atan2(start.y - centre.y, start.x - centre.x),
    sweep: 4 * Math.atan(bulge),
  };
  return arcCubics(arc, start, end);
}

/** The corners of an LWPOLYLINE; null when one of them is no number. */
export function lightCorners(entry: Entry): Corner[] | null {
  const corners: { x: number; y: number; bulge: number }[] = [];
  let sound = true;
  eachPair(entry, (code, i) => {
    if (code !== 10 && code !== 20 && code !== 42) return;
    const value = entry.pairs.number(i);
    if (Number.isNaN(value)) sound = false;
    const last = corners.at(-1);
    if (code === 10) corners.push({ x: value, y: Number.NaN, bulge: 0 });
    else if (last && code === 20) last.y = value;
    else if (last) last.bulge = value;
  });
  return sound && corners.every(({ y }) => !Number.isNaN(y)) ? corners : null;
}

/** The corners of a POLYLINE from the VERTEX entries that follow it; null when one of them is no number. */
export function vertexCorners(vertices: readonly Entry[]): Corner[] | null {
  // Points that only steer a smoothed line (bit 16) are not on it.
  const drawn = vertices.filter((vertex) => !hasFlag(vertex, 70, 16));
  const corners = drawn.map((vertex) => ({
    x: numberIn(vertex, 10, Number.NaN),
    y: numberIn(vertex, 20, Number.NaN),
    bulge: numberIn(vertex, 42, 0),
  }));
  const sound = corners.every(({ x, y, bulge }) => !Number.isNaN(x + y + bulge));
  return sound ? corners : null;
}
