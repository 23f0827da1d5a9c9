import type { Point } from '../../geometry/point';
import { acrossAt, curveSeen, type EdgeCurve, squareness } from './edgeCurve';
import { readEdgeLook } from './edgeLook';
import { type EdgeLook, type EdgePoints, edgePoints } from './edgeProfile';
import { searchEdge } from './edgeSearch';
import { shadowShifts } from './edgeShadow';
import { fitQuad, type QuadFit } from './fitQuad';
import type { Picture } from './picture';
import type { Quad } from './pictureView';
import { light } from './tones';
import { applyLens } from './viewPoint';

/** The four edges of a sheet, read off the picture. */
export interface SheetEdges {
  readonly fit: QuadFit;
  readonly look: EdgeLook;
}

/** Which side (0 to 3, from corner i to corner i + 1) could not be read. */
export interface EdgeMissing {
  readonly missing: number;
}

/** What is assumed about lenses and paper before the picture is asked. */
export interface Assumed {
  /** Lens term. */
  readonly lensSpread: number;
  /** Dots, for each edge. */
  readonly bulgeSpread: readonly number[];
}

/** Dots by which a lens may bow an edge: first as it usually does, then as a strong one does to a sheet that fills the picture. */
const slightBow = 12;
const strongBow = 44;

/** Share of an edge's rows that must agree on its line. */
const leastAgreeing = 0.4;

/** Reads the edges of a sheet whose corners are known to within `reach` dots; one pass finds them, three measure them. */
export function readSheetEdges(
  picture: Picture,
  rough: Quad,
  reach: number,
  assumed: Assumed,
  passes = 3,
): SheetEdges | EdgeMissing {
  const curves: EdgeCurve[] = [];
  for (let i = 0; i < 4; i++) {
    const [a, b] = [rough[i]!, rough[(i + 1) % 4]!];
    const usual = searchEdge(picture, a, b, reach, slightBow);
    const curve = usual ?? (passes > 1 ? searchEdge(picture, a, b, reach, strongBow) : null);
    if (curve === null) return { missing: i };
    curves.push(curve);
  }
  let look = readEdgeLook(picture, curves);
  let fit: QuadFit | null = null;
  let now = curves;
  for (let pass = 0; pass < passes; pass++) {
    const contrasts = now.map((curve, i) => contrastAcross(picture, curve, outwardOf(rough, i)));
    const shifts = pass > 0 && pass + 1 === passes ? shadowShifts(picture, now, fit!.corners, look, contrasts) : null;
    const points: EdgePoints[] = now.map((curve, i) => {
      const seen = edgePoints(picture, curve, look, contrasts[i]!);
      return shifts === null ? seen : movedAcross(seen, curve, outwardOf(rough, i), -shifts[i]!);
    });
    const poor = points.findIndex(({ count }) => count < 12);
    if (poor >= 0) return { missing: poor };
    fit = fitQuad(picture, points, fit?.corners ?? rough, assumed.lensSpread, assumed.bulgeSpread);
    if (fit === null) return { missing: 0 };
    const strange = fit.agreeing.findIndex((share) => share < leastAgreeing);
    if (strange >= 0) return { missing: strange };
    if (pass + 1 === passes) break;
    now = curvesOf(picture, fit);
    if (pass === 0) look = readEdgeLook(picture, now);
  }
  return { fit: fit!, look };
}

function curvesOf(picture: Picture, fit: QuadFit): EdgeCurve[] {
  const frame = { width: picture.width, height: picture.height, lens: fit.lens };
  return fit.corners.map((a, i) => {
    const b = fit.corners[(i + 1) % 4]!;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    const out = { x: (b.y - a.y) / length, y: -(b.x - a.x) / length };
    return curveSeen((t) => {
      const bow = fit.bulge[i]! * 4 * t * (1 - t);
      return applyLens(frame, { x: a.x + (b.x - a.x) * t + out.x * bow, y: a.y + (b.y - a.y) * t + out.y * bow });
    });
  });
}

/** The places moved outward, square to the edge, by so many dots. */
function movedAcross(points: EdgePoints, curve: EdgeCurve, outward: Point, by: number): EdgePoints {
  const step = (by / squareness(curve)) * Math.sign(curve.alongX ? outward.y : outward.x);
  return curve.alongX
    ? { ...points, y: points.y.map((value) => value + step) }
    : { ...points, x: points.x.map((value) => value + step) };
}

function outwardOf(quad: Quad, i: number): Point {
  const a = quad[i]!;
  const b = quad[(i + 1) % 4]!;
  return { x: b.y - a.y, y: a.x - b.x };
}

/** Light of the sheet less that of what lies beside it, red, green and blue: means from 3 to 6 dots off the edge. */
function contrastAcross(picture: Picture, curve: EdgeCurve, outward: Point): readonly [number, number, number] {
  const { data, width, height } = picture;
  const { alongX } = curve;
  const square = squareness(curve);
  const inside = (alongX ? outward.y : outward.x) > 0 ? -1 : 1;
  const sums: [number, number, number] = [0, 0, 0];
  let count = 0;
  for (let i = 0; i < 200; i++) {
    const run = Math.floor(curve.start + (curve.end - curve.start) * (0.05 + (0.9 * (i + 0.5)) / 200));
    const line = acrossAt(curve, run + 0.5);
    for (let d = 3; d <= 6; d++) {
      for (const side of [1, -1]) {
        const across = Math.floor(line + (side * inside * d) / square);
        const [x, y] = alongX ? [run, across] : [across, run];
        if (x < 0 || y < 0 || x >= width || y >= height) continue;
        const at = (y * width + x) * 4;
        for (let c = 0; c < 3; c++) sums[c] = sums[c]! + side * light[data[at + c]!]!;
        count++;
      }
    }
  }
  const half = Math.max(1, count / 2);
  const mean: [number, number, number] = [sums[0] / half, sums[1] / half, sums[2] / half];
  return Math.hypot(...mean) < 1e-3 ? [1, 1, 1] : mean;
}
