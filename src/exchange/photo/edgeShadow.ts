import { type Point, point, subtract, unit } from '../../geometry/point';
import { type EdgeCurve, squareness } from './edgeCurve';
import { codingPower, type EdgeMean, meanAcross } from './edgeMean';
import { type CameraModel, type EdgeModel, fitModel, levelAt, profileOf } from './edgeModel';
import { type EdgeLook, StepFit } from './edgeProfile';
import type { Picture } from './picture';
import type { Quad } from './pictureView';

/** Dots: edges narrower than this were sharpened by the camera, and its halo would be taken for a shadow. */
const sharpest = 0.4;

/** Parts of a dot at which rows cross an edge when the reading of it is imitated. */
const phases = 4;

/**
 * Dots, outward of each edge positive, by which the shadow beside the paper moves what rows show of the edge. Rows are
 * read as one step between two levels; a shadow is darker beside the edge than a few dots off, and looks like an edge
 * farther in. Its course is read off the mean profiles, then the reading of rows is imitated with it and without.
 */
export function shadowShifts(
  picture: Picture,
  curves: readonly EdgeCurve[],
  corners: Quad,
  look: EdgeLook,
  contrasts: readonly (readonly number[])[],
): readonly number[] {
  const still = [0, 0, 0, 0];
  if (look.blur < sharpest) return still;
  const outward = corners.map((corner, i): Point => {
    const along = unit(subtract(corners[(i + 1) % 4]!, corner));
    return point(along.y, -along.x);
  });
  const means: EdgeMean[] = [];
  for (const [i, curve] of curves.entries()) {
    const away = Math.sign(curve.alongX ? outward[i]!.y : outward[i]!.x);
    const mean = meanAcross(picture, curve, away, look.light, contrasts[i]!);
    if (mean === null) return still;
    means.push(mean);
  }
  const model = fitModel(means, outward, look.blur);
  if (model === null) return still;
  return model.edges.map((edge, i) => {
    if (edge.shadowWidth === 0) return 0;
    const square = squareness(curves[i]!);
    const shaded = placeSeen(model.camera, edge, look.blur, square);
    const bare = placeSeen(model.camera, { ...edge, shadowWidth: 0 }, look.blur, square);
    return shaded === null || bare === null ? 0 : shaded - bare;
  });
}

/** Where rows place an edge of this model, dots outward of its curve. */
function placeSeen(camera: CameraModel, edge: EdgeModel, blur: number, square: number): number | null {
  const lit = profileOf(camera, edge).map((value) => value ** (1 / codingPower));
  const spread = blur / square;
  const half = Math.ceil(2.2 * spread + 1);
  const fit = new StepFit(spread);
  const row = new Float64Array(2 * half + 1);
  let sum = 0;
  for (let phase = 0; phase < phases; phase++) {
    const part = (phase + 0.5) / phases - 0.5;
    for (let j = 0; j < row.length; j++) row[j] = levelAt(lit, (j - half + part) * square + edge.place);
    if (!fit.run(row, row.length, half - part)) return null;
    sum += (fit.place - half + part) * square;
  }
  return sum / phases;
}
