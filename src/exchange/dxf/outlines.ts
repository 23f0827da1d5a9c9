import type { Segment } from '../../geometry/segment';
import { line } from '../../geometry/segment';
import { type Affine, identity } from '../drawing/affine';
import type { DxfWarning } from './dxfWarnings';
import { planeMap } from './frame';
import { type Entry, hasFlag, numberIn } from './pairs';
import { type Corner, lightCorners, polylineSegments, vertexCorners } from './polyline';
import { arcOf, circleSegments, ellipseOf } from './rounds';
import { splineOf } from './spline';
import type { FitBudget } from './splineFit';

/** The line an entity draws, in its own plane, with the map from there; or why it draws none. */
export type Outline =
  | {
      readonly kind: 'line';
      readonly segments: readonly Segment[];
      readonly closed: boolean;
      readonly plane: Affine;
      readonly notes: readonly DxfWarning[];
    }
  | { readonly kind: 'left-out'; readonly why: DxfWarning }
  | { readonly kind: 'too-much' };

const drawn: ReadonlySet<string> = new Set('LINE LWPOLYLINE POLYLINE ARC CIRCLE ELLIPSE SPLINE'.split(' '));

export function drawsLine(type: string): boolean {
  return drawn.has(type);
}

/** Kinds that draw something that is no line, each with what is said about it. */
export const passedOver: ReadonlyMap<string, DxfWarning> = new Map([
  ['HATCH', 'hatch'],
  ['SOLID', 'hatch'],
  ['TRACE', 'hatch'],
  ['3DFACE', 'solid'],
  ['3DSOLID', 'solid'],
  ['BODY', 'solid'],
  ['REGION', 'solid'],
  ['SURFACE', 'solid'],
  ['MESH', 'solid'],
  ['DIMENSION', 'dimension'],
  ['LEADER', 'dimension'],
  ['MULTILEADER', 'dimension'],
  ['TOLERANCE', 'dimension'],
  ['IMAGE', 'outside'],
  ['PDFUNDERLAY', 'outside'],
  ['DWFUNDERLAY', 'outside'],
  ['DGNUNDERLAY', 'outside'],
]);

/** Kinds that draw nothing by themselves. */
export const silent: ReadonlySet<string> = new Set('POINT ATTDEF SEQEND VERTEX VIEWPORT ENDBLK'.split(' '));

/** The line of an entity; a POLYLINE's points stand in the VERTEX entries after it. */
export function outlineOf(entry: Entry, vertices: readonly Entry[], budget: FitBudget): Outline {
  const plane = planeMap(entry);
  switch (entry.type) {
    case 'LINE':
      return straight(entry);
    case 'LWPOLYLINE': {
      const corners = lightCorners(entry);
      const announced = numberIn(entry, 90, corners?.length ?? 0);
      const notes: DxfWarning[] = corners && announced !== corners.length ? ['short'] : [];
      return fromCorners(corners, hasFlag(entry, 70, 1), plane, notes);
    }
    case 'POLYLINE':
      return polyline(entry, vertices, plane);
    case 'SPLINE':
      return spline(entry, budget);
    case 'ELLIPSE':
      return flatLine(plane && ellipseOf(entry, numberIn(entry, 230, 1) < 0), plane, identity);
    case 'ARC':
      return flatLine(arcOf(entry), plane, plane);
    default:
      return flatLine(circleSegments(entry), plane, plane);
  }
}

function flatLine(segments: readonly Segment[] | null, plane: Affine | null, map: Affine | null): Outline {
  if (!plane || !map) return { kind: 'left-out', why: 'tilted' };
  if (!segments) return { kind: 'left-out', why: 'unreadable' };
  // A whole circle or ellipse comes back to its start by itself.
  return { kind: 'line', segments, closed: false, plane: map, notes: [] };
}

function straight(entry: Entry): Outline {
  const [x0, y0, z0, x1, y1, z1] = [10, 20, 30, 11, 21, 31].map((code) =>
    numberIn(entry, code, code === 30 || code === 31 ? 0 : Number.NaN),
  ) as [number, number, number, number, number, number];
  if (Number.isNaN(x0 + y0 + z0 + x1 + y1 + z1)) return { kind: 'left-out', why: 'unreadable' };
  const segments = [line({ x: x0, y: y0 }, { x: x1, y: y1 })];
  return { kind: 'line', segments, closed: false, plane: identity, notes: rises([z0, z1], segments) };
}

function polyline(entry: Entry, vertices: readonly Entry[], plane: Affine | null): Outline {
  // Bits 16 and 64: a mesh of faces.
  if (hasFlag(entry, 70, 16) || hasFlag(entry, 70, 64)) return { kind: 'left-out', why: 'solid' };
  const corners = vertexCorners(vertices);
  // Bit 8: a line in space, written in the drawing's own frame.
  if (!hasFlag(entry, 70, 8)) return fromCorners(corners, hasFlag(entry, 70, 1), plane, []);
  const straightened = corners?.map(({ x, y }) => ({ x, y, bulge: 0 })) ?? null;
  const heights = vertices.map((vertex) => numberIn(vertex, 30, 0));
  const answer = fromCorners(straightened, hasFlag(entry, 70, 1), identity, []);
  return answer.kind === 'line' ? { ...answer, notes: rises(heights, answer.segments) } : answer;
}

function fromCorners(
  corners: readonly Corner[] | null,
  closed: boolean,
  plane: Affine | null,
  notes: readonly DxfWarning[],
): Outline {
  if (!plane) return { kind: 'left-out', why: 'tilted' };
  if (!corners) return { kind: 'left-out', why: 'unreadable' };
  const segments = polylineSegments(corners, closed);
  if (segments.length === 0) return { kind: 'left-out', why: 'too-far' };
  return { kind: 'line', segments, closed, plane, notes };
}

function spline(entry: Entry, budget: FitBudget): Outline {
  const answer = splineOf(entry, budget);
  if (answer.kind === 'too-much') return answer;
  if (answer.kind === 'unreadable' || answer.segments.length === 0) return { kind: 'left-out', why: 'unreadable' };
  const notes: DxfWarning[] = answer.throughPoints ? ['fit-points'] : [];
  return { kind: 'line', segments: answer.segments, closed: false, plane: identity, notes };
}

/** Ratio of the length seen from above. A line that climbs less is as long as it looks, to a millionth of its length. */
const levelShare = 1e-3;

function rises(heights: readonly number[], segments: readonly Segment[]): DxfWarning[] {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (const height of heights) {
    lowest = Math.min(lowest, height);
    highest = Math.max(highest, height);
  }
  let seen = 0;
  for (const { start, end } of segments) seen += Math.hypot(end.x - start.x, end.y - start.y);
  return highest - lowest > levelShare * seen ? ['raised'] : [];
}
