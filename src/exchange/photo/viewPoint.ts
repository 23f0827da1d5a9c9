import type { Point } from '../../geometry/point';
import { invertHomography } from './homography';
import type { Homography, PictureView } from './pictureView';

type Frame = Pick<PictureView, 'width' | 'height' | 'lens'>;

/** Where the place (dots) would lie in a picture taken with a lens that draws straight lines straight. */
export function undoLens(view: Frame, p: Point): Point {
  if (view.lens === 0) return p;
  const x = p.x - view.width / 2;
  const y = p.y - view.height / 2;
  const stretch = 1 + (view.lens * 4 * (x * x + y * y)) / (view.width * view.width + view.height * view.height);
  return { x: view.width / 2 + x * stretch, y: view.height / 2 + y * stretch };
}

/** The place (dots) on the picture as taken; inverse of `undoLens`, by Newton's method to 1e-12 of the half diagonal. */
export function applyLens(view: Frame, p: Point): Point {
  if (view.lens === 0) return p;
  const x = p.x - view.width / 2;
  const y = p.y - view.height / 2;
  const halfDiagonal = Math.sqrt(view.width * view.width + view.height * view.height) / 2;
  const target = Math.sqrt(x * x + y * y) / halfDiagonal;
  if (target === 0) return p;
  // A strong pincushion lens turns back at this radius: nothing of the picture lies beyond, so the search stays inside.
  const turn = view.lens < 0 ? 1 / Math.sqrt(-3 * view.lens) : Number.POSITIVE_INFINITY;
  let radius = Math.min(target, turn);
  for (let step = 0; step < 60; step++) {
    const slope = 1 + 3 * view.lens * radius * radius;
    const next = Math.min(radius - (radius * (1 + view.lens * radius * radius) - target) / Math.max(slope, 1e-6), turn);
    const moved = Math.abs(next - radius);
    radius = next;
    if (moved < 1e-14 * (1 + radius)) break;
  }
  const shrink = radius / target;
  return { x: view.width / 2 + x * shrink, y: view.height / 2 + y * shrink };
}

const nowhere: Point = { x: Number.NaN, y: Number.NaN };

/** +1 or -1: the sign that denominators of the homography have on the part of the table which the picture shows. */
export function visibleSign(view: PictureView): number {
  const h = view.homography;
  return h[6] * (view.width / 2) + h[7] * (view.height / 2) + h[8] < 0 ? -1 : 1;
}

/** From a place on the picture (dots) to the table (mm). Not a number above the table's horizon. */
export function toTable(view: PictureView, p: Point): Point {
  const u = undoLens(view, p);
  const h = view.homography;
  const w = h[6] * u.x + h[7] * u.y + h[8];
  if (!(w * visibleSign(view) > 0)) return nowhere;
  return { x: (h[0] * u.x + h[1] * u.y + h[2]) / w, y: (h[3] * u.x + h[4] * u.y + h[5]) / w };
}

const inverses = new WeakMap<PictureView, Homography>();

function backwards(view: PictureView): Homography {
  const known = inverses.get(view);
  if (known !== undefined) return known;
  const made = invertHomography(view.homography);
  inverses.set(view, made);
  return made;
}

/**
 * From a place on the table (mm) to the picture (dots); it may lie outside the picture. Not a number for places behind
 * the camera. There and back is exact to 1e-9 wherever the picture shows the table.
 */
export function toPicture(view: PictureView, q: Point): Point {
  const h = backwards(view);
  const w = h[6] * q.x + h[7] * q.y + h[8];
  if (!(w * visibleSign(view) > 0)) return nowhere;
  return applyLens(view, { x: (h[0] * q.x + h[1] * q.y + h[2]) / w, y: (h[3] * q.x + h[4] * q.y + h[5]) / w });
}
