import type { Point } from '../../geometry/point';
import type { Segment } from '../../geometry/segment';
import { arcCubics, type EllipseArc } from '../drawing/arc';
import { type Entry, numberIn } from './pairs';

const turn = 2 * Math.PI;

/** The cubics of a CIRCLE, in its own plane; null when its sizes are none. */
export function circleSegments(entry: Entry): Segment[] | null {
  const round = roundOf(entry);
  return round && arcSegments({ ...round, from: 0, sweep: turn }, true);
}

/** The cubics of an ARC, in its own plane: from its start to its end angle (degrees), turning from x towards y. */
export function arcOf(entry: Entry): Segment[] | null {
  const round = roundOf(entry);
  const from = numberIn(entry, 50, Number.NaN);
  const to = numberIn(entry, 51, Number.NaN);
  if (!round || !isAngle(from, 1e6) || !isAngle(to, 1e6)) return null;
  const sweep = forward(((to - from) * Math.PI) / 180);
  return arcSegments({ ...round, from: (from * Math.PI) / 180, sweep }, sweep === turn);
}

/**
 * The cubics of an ELLIPSE, in the drawing's plane: the longer half axis as a vector, the other as a share of it, and two
 * parameters (radians) between which it is drawn. Drawn from below, it turns the other way.
 */
export function ellipseOf(entry: Entry, fromBelow: boolean): Segment[] | null {
  const centre = { x: numberIn(entry, 10, Number.NaN), y: numberIn(entry, 20, Number.NaN) };
  const axisX = { x: numberIn(entry, 11, Number.NaN), y: numberIn(entry, 21, Number.NaN) };
  const share = numberIn(entry, 40, Number.NaN) * (fromBelow ? -1 : 1);
  const from = numberIn(entry, 41, 0);
  const to = numberIn(entry, 42, turn);
  const axisY = { x: -axisX.y * share, y: axisX.x * share };
  if (Number.isNaN(centre.x + centre.y + axisX.x + axisX.y + share) || share === 0) return null;
  if (!isAngle(from, 1e4) || !isAngle(to, 1e4)) return null;
  const sweep = forward(to - from);
  return arcSegments({ centre, axisX, axisY, from, sweep }, sweep === turn);
}

function roundOf(entry: Entry): Omit<EllipseArc, 'from' | 'sweep'> | null {
  const centre: Point = { x: numberIn(entry, 10, Number.NaN), y: numberIn(entry, 20, Number.NaN) };
  const radius = numberIn(entry, 40, Number.NaN);
  if (!(radius > 0) || Number.isNaN(centre.x + centre.y)) return null;
  return { centre, axisX: { x: radius, y: 0 }, axisY: { x: 0, y: radius } };
}

function isAngle(value: number, most: number): boolean {
  return Math.abs(value) <= most;
}

/** A turn forward, more than 0 and at most once round; the same angle twice is once round. */
function forward(angle: number): number {
  const rest = ((angle % turn) + turn) % turn;
  return rest < 1e-9 || turn - rest < 1e-9 ? turn : rest;
}

function arcSegments(arc: EllipseArc, whole: boolean): Segment[] {
  const start = onArc(arc, arc.from);
  return arcCubics(arc, start, whole ? start : onArc(arc, arc.from + arc.sweep));
}

function onArc({ centre, axisX, axisY }: EllipseArc, angle: number): Point {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { x: centre.x + c * axisX.x + s * axisY.x, y: centre.y + c * axisX.y + s * axisY.y };
}
