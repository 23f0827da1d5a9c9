import { cameraLens } from '../../geometry/tolerance';
import { proportionsSeen } from './aspect';
import { flatZones } from './flatZones';
import type { Picture } from './picture';
import type { Quad } from './pictureView';
import { quadOfZone, type ZoneQuad } from './quadOfZone';
import { readSheetEdges } from './sheetEdges';
import { halved, reducePicture } from './smallPicture';
import { applyLens } from './viewPoint';

/** A four-cornered flat thing on the picture that may be the sheet of known size. */
export interface SheetFound {
  /** Dots, sub-dot; upper left, upper right, lower right, lower left as the picture shows them. */
  readonly corners: Quad;
  /** Long side over short side with the perspective undone, as a camera with square dots and a centred lens sees it. */
  readonly longOverShort: number;
  /** Dots: how far single places of the border scatter about four straight lines. */
  readonly straightness: number;
}

/** Zones looked at closely, at most. */
const mostTried = 5;

/** Long over short of the papers that are commonest: the A sizes (ISO 216) and US Letter. */
const usualShapes = [Math.SQRT2, 11 / 8.5] as const;

/** Four-cornered sheets that lie wholly on the picture, the likeliest first; none where nothing is clear. */
export function findSheets(picture: Picture): readonly SheetFound[] {
  // At half size a sheet stays large enough, and the weave of cloths melts together.
  const small = halved(reducePicture(picture));
  const { zones, rank } = flatZones(small);
  const marks = new Int32Array(small.width * small.height);
  const rough: ZoneQuad[] = [];
  zones.forEach((zone, i) => {
    const quad = quadOfZone(rank, small.width, small.height, zone, marks, i + 1);
    if (quad !== null && quad.weakest > 0.45 && quad.followed > 0.65) rough.push(quad);
  });
  rough.sort((a, b) => promise(b) - promise(a));
  const distinct: Quad[] = [];
  for (const { corners } of rough) {
    if (distinct.length < mostTried && !distinct.some((known) => alike(known, corners))) distinct.push(corners);
  }
  return distinct
    .flatMap((corners) => lookClosely(picture, fromUpperLeft(corners), small.factor))
    .sort((a, b) => unlikely(a) - unlikely(b));
}

/** Clear on all sides, and rather large: the squares of a mat are clear too. */
function promise({ weakest, followed, area }: ZoneQuad): number {
  return weakest + followed + 0.3 * Math.log(area);
}

function lookClosely(picture: Picture, small: Quad, factor: number): SheetFound[] {
  const corners = small.map(({ x, y }) => ({ x: x * factor, y: y * factor })) as unknown as Quad;
  const sides = corners.map((a, i) => Math.hypot(corners[(i + 1) % 4]!.x - a.x, corners[(i + 1) % 4]!.y - a.y));
  const bulgeSpread = sides.map((side) => side * 2e-5);
  const edges = readSheetEdges(picture, corners, Math.max(6, 1.5 * factor), { lensSpread: cameraLens, bulgeSpread }, 1);
  if ('missing' in edges) return [];
  const { fit } = edges;
  const straightness = Math.max(...fit.spread);
  if (straightness > 0.8) return [];
  const frame = { width: picture.width, height: picture.height, lens: fit.lens };
  const { ratio } = proportionsSeen(frame, fit.corners, 0.1);
  return [
    {
      corners: fit.corners.map((corner) => applyLens(frame, corner)) as unknown as Quad,
      longOverShort: Math.max(ratio, 1 / ratio),
      straightness,
    },
  ];
}

/** Smaller is likelier: first a usual shape, then straight edges. */
function unlikely({ longOverShort, straightness }: SheetFound): number {
  const off = Math.min(...usualShapes.map((shape) => Math.abs(Math.log(longOverShort / shape))));
  return Math.min(4, off / 0.02) + 2 * straightness;
}

/** Whether all corners lie within a twentieth of the longest side of each other. */
function alike(a: Quad, b: Quad): boolean {
  const longest = Math.max(...a.map((p, i) => Math.hypot(p.x - a[(i + 1) % 4]!.x, p.y - a[(i + 1) % 4]!.y)));
  return [0, 1, 2, 3].some((turn) =>
    a.every((p, i) => Math.hypot(p.x - b[(i + turn) % 4]!.x, p.y - b[(i + turn) % 4]!.y) < longest / 20),
  );
}

/** The same corners, clockwise still, from the one that lies farthest to the upper left. */
function fromUpperLeft(quad: Quad): Quad {
  const first = quad.reduce((best, p, i) => (p.x + p.y < quad[best]!.x + quad[best]!.y ? i : best), 0);
  return [0, 1, 2, 3].map((i) => quad[(first + i) % 4]!) as unknown as Quad;
}
