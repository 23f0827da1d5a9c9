import type { Point } from '../../geometry/point';
import type { Homography, Quad } from './pictureView';

/** Where the homography takes a place; not finite where the place lies on its horizon. */
export function mapPoint(h: Homography, p: Point): Point {
  const w = h[6] * p.x + h[7] * p.y + h[8];
  return { x: (h[0] * p.x + h[1] * p.y + h[2]) / w, y: (h[3] * p.x + h[4] * p.y + h[5]) / w };
}

/** The determinant of the nine numbers; 0 when the homography squeezes the plane into a line. */
function determinant(h: Homography): number {
  return h[0] * (h[4] * h[8] - h[5] * h[7]) - h[1] * (h[3] * h[8] - h[5] * h[6]) + h[2] * (h[3] * h[7] - h[4] * h[6]);
}

/** The way back. The nine numbers are the true matrix inverse, so that denominators keep their sign. */
export function invertHomography(h: Homography): Homography {
  const d = determinant(h);
  return [
    (h[4] * h[8] - h[5] * h[7]) / d,
    (h[2] * h[7] - h[1] * h[8]) / d,
    (h[1] * h[5] - h[2] * h[4]) / d,
    (h[5] * h[6] - h[3] * h[8]) / d,
    (h[0] * h[8] - h[2] * h[6]) / d,
    (h[2] * h[3] - h[0] * h[5]) / d,
    (h[3] * h[7] - h[4] * h[6]) / d,
    (h[1] * h[6] - h[0] * h[7]) / d,
    (h[0] * h[4] - h[1] * h[3]) / d,
  ];
}

/**
 * The homography that takes the unit square (0,0) (1,0) (1,1) (0,1) to four places, in closed form (Heckbert 1989,
 * from memory). Exact up to rounding; denominators are positive inside the square when the places are convex.
 */
export function squareToQuad(quad: Quad): Homography {
  const [a, b, c, d] = quad;
  const sx = a.x - b.x + c.x - d.x;
  const sy = a.y - b.y + c.y - d.y;
  const ux = b.x - c.x;
  const uy = b.y - c.y;
  const vx = d.x - c.x;
  const vy = d.y - c.y;
  const area = ux * vy - uy * vx;
  const g = (sx * vy - sy * vx) / area;
  const h = (ux * sy - uy * sx) / area;
  return [b.x - a.x + g * b.x, d.x - a.x + h * d.x, a.x, b.y - a.y + g * b.y, d.y - a.y + h * d.y, a.y, g, h, 1];
}

/** The homography that takes four places to the corners of a rectangle with its upper left corner at (0, 0). */
export function quadToRectangle(quad: Quad, width: number, height: number): Homography {
  const h = invertHomography(squareToQuad(quad));
  return [h[0] * width, h[1] * width, h[2] * width, h[3] * height, h[4] * height, h[5] * height, h[6], h[7], h[8]];
}
