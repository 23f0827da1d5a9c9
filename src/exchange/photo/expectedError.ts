import type { Point } from '../../geometry/point';
import { mapPoint, quadToRectangle } from './homography';
import type { Quad } from './pictureView';
import type { Straightened } from './reference';
import { toPicture, undoLens } from './viewPoint';

/**
 * Half-widths of a Gaussian in the plane that hold 95 % of it, over its larger standard deviation, for 0, 1/4, 1/2, 3/4
 * and 1 of the smaller over the larger (computed by numerical integration; the ends are 1.960 and sqrt(-2 ln 0.05)).
 */
const reach95 = [1.96, 1.9765, 2.0359, 2.1858, 2.4477] as const;

/** How a place on the table moves with the corners' coordinates and the lens: 9 pairs x y, mm for a dot or lens term. */
type Slopes = Float64Array;

/**
 * mm: the error, seen from the sheet, that 95 % of places there stay below, by carrying the covariance of the corners
 * and the lens there.
 */
export function expectedError(s: Straightened, at: Point): number {
  const seen = toPicture(s.view, at);
  return Number.isFinite(seen.x) ? spread95(slopesAt(s, seen), s.covariance) : Number.POSITIVE_INFINITY;
}

/**
 * mm: the same for each place of a piece, seen from the piece itself: an error that shifts or turns the whole piece
 * changes nothing on it, so what is common to all these places is taken away first. Two places at least.
 */
export function expectedShapeErrors(s: Straightened, places: readonly Point[]): number[] {
  const seen = places.map((at) => toPicture(s.view, at));
  if (seen.some(({ x }) => !Number.isFinite(x))) return places.map(() => Number.POSITIVE_INFINITY);
  const slopes = seen.map((p) => slopesAt(s, p));
  const n = places.length;
  const middle = {
    x: places.reduce((sum, { x }) => sum + x / n, 0),
    y: places.reduce((sum, { y }) => sum + y / n, 0),
  };
  const arms = places.map(({ x, y }) => ({ x: x - middle.x, y: y - middle.y }));
  const whole = arms.reduce((sum, { x, y }) => sum + x * x + y * y, 0);
  for (let i = 0; i < 9; i++) {
    let x = 0;
    let y = 0;
    let turn = 0;
    slopes.forEach((slope, k) => {
      const arm = arms[k]!;
      x += slope[2 * i]! / n;
      y += slope[2 * i + 1]! / n;
      turn += (arm.x * slope[2 * i + 1]! - arm.y * slope[2 * i]!) / (whole || 1);
    });
    slopes.forEach((slope, k) => {
      const arm = arms[k]!;
      slope[2 * i] = slope[2 * i]! - x + turn * arm.y;
      slope[2 * i + 1] = slope[2 * i + 1]! - y - turn * arm.x;
    });
  }
  return slopes.map((slope) => spread95(slope, s.covariance));
}

/** Radius that holds 95 % of a place's errors. */
function spread95(slopes: Slopes, covariance: readonly number[]): number {
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let i = 0; i < 9; i++) {
    for (let j = 0; j < 9; j++) {
      const c = covariance[9 * i + j]!;
      xx += slopes[2 * i]! * c * slopes[2 * j]!;
      xy += slopes[2 * i]! * c * slopes[2 * j + 1]!;
      yy += slopes[2 * i + 1]! * c * slopes[2 * j + 1]!;
    }
  }
  const middle = (xx + yy) / 2;
  const apart = Math.hypot((xx - yy) / 2, xy);
  const larger = Math.sqrt(Math.max(0, middle + apart));
  const ratio = larger === 0 ? 0 : Math.sqrt(Math.max(0, middle - apart)) / larger;
  const k = Math.min(3, Math.floor(ratio * 4));
  return larger * (reach95[k]! + (reach95[k + 1]! - reach95[k]!) * (ratio * 4 - k));
}

/** d(table place) / d(each corner coordinate, lens) at a fixed place of the picture. */
function slopesAt({ view, size, undone }: Straightened, seen: Point): Slopes {
  const slopes = new Float64Array(18);
  const u = undoLens(view, seen);
  const step = 0.01;
  const with_ = (quad: Quad): Point => mapPoint(quadToRectangle(quad, size.width, size.height), u);
  for (let i = 0; i < 8; i++) {
    const moved = (by: number): Quad =>
      undone.map((corner, k) =>
        k !== i >> 1 ? corner : i % 2 === 0 ? { x: corner.x + by, y: corner.y } : { x: corner.x, y: corner.y + by },
      ) as unknown as Quad;
    const [p, q] = [with_(moved(step)), with_(moved(-step))];
    slopes[2 * i] = (p.x - q.x) / (2 * step);
    slopes[2 * i + 1] = (p.y - q.y) / (2 * step);
  }
  const dx = seen.x - view.width / 2;
  const dy = seen.y - view.height / 2;
  const r2 = (4 * (dx * dx + dy * dy)) / (view.width ** 2 + view.height ** 2);
  const lensStep = 1e-5;
  const p = mapPoint(view.homography, { x: u.x + dx * r2 * lensStep, y: u.y + dy * r2 * lensStep });
  const q = mapPoint(view.homography, { x: u.x - dx * r2 * lensStep, y: u.y - dy * r2 * lensStep });
  slopes[16] = (p.x - q.x) / (2 * lensStep);
  slopes[17] = (p.y - q.y) / (2 * lensStep);
  return slopes;
}
