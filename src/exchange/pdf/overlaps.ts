import type { Bounds } from '../../geometry/bounds';
import { nearestOnPath } from '../../geometry/nearest';
import { pathEnd, pathLength, pathPointAt, pathStart, subPath } from '../../geometry/path';
import { dot, type Point } from '../../geometry/point';
import { borderMatch, goesOnStraight } from '../../geometry/tolerance';
import { controlBox } from '../drawing/nearText';
import { lookOf } from './lineEnds';
import type { PagePlace } from './pageArrangement';
import type { PdfPage } from './pdfReading';
import type { SheetShape } from './sheetShapes';

/** mm. A shared stretch shorter than this is only two ends that meet. */
const shortest = 2 * borderMatch;

interface Working {
  shape: SheetShape;
  box: Bounds;
  readonly look: string;
  gone: boolean;
}

/**
 * Where pages overlap, a line is drawn on both, cut off at different places. One of the two is shortened to where the
 * other begins, so that they meet end to end; a line that lies wholly on another is left out.
 */
export function withoutOverlaps(
  shapes: readonly SheetShape[],
  pages: readonly PdfPage[],
  places: readonly PagePlace[],
): { readonly shapes: readonly SheetShape[]; readonly shortened: number } {
  const shared = sharedAreas(pages, places);
  if (shared.length === 0) return { shapes, shortened: 0 };
  const all: Working[] = shapes.map((shape) => ({
    shape,
    box: controlBox(shape.path),
    look: lookOf(shape),
    gone: false,
  }));
  const inShared = all.filter(({ shape, box }) => !shape.closed && shared.some((area) => meet(area, box, borderMatch)));
  let shortened = 0;
  for (const one of inShared) {
    for (const other of inShared) {
      if (one.gone) break;
      if (other.gone || other.shape.page === one.shape.page || other.look !== one.look) continue;
      if (meet(one.box, other.box, borderMatch) && shorten(one, other)) shortened++;
    }
  }
  return { shapes: all.filter(({ gone }) => !gone).map(({ shape }) => shape), shortened };
}

/** Shortens `one` where it lies on `other`; says whether it did. */
function shorten(one: Working, other: Working): boolean {
  const { path } = one.shape;
  const startOn = liesOn(pathStart(path), other);
  const endOn = liesOn(pathEnd(path), other);
  // A line that ends within the overlap ends on both pages at one place.
  const isWithin = touches(pathStart(path), other) && touches(pathEnd(path), other);
  if (!startOn && !endOn && !isWithin) return false;
  const length = pathLength(path);
  const cuts = [pathStart(other.shape.path), pathEnd(other.shape.path)].flatMap((p) => {
    const near = nearestOnPath(path, p);
    return near.distance <= borderMatch && near.along > shortest && near.along < length - shortest ? [near.along] : [];
  });
  const runsAlong = (from: number, to: number) =>
    [0.25, 0.5, 0.75].every((share) => {
      const { point, tangent } = pathPointAt(path, from + share * (to - from));
      return isAlong(point, tangent, other);
    });
  if (cuts.length === 0) {
    if (!isWithin || !runsAlong(0, length)) return false;
    one.gone = true;
    return true;
  }
  if (!startOn && !endOn) return false;
  const cut = endOn ? Math.max(...cuts) : Math.min(...cuts);
  const [from, to] = endOn ? [cut, length] : [0, cut];
  if (!runsAlong(from, to)) return false;
  const kept = endOn ? subPath(path, 0, cut) : subPath(path, cut, length);
  if (kept.length === 0) return false;
  one.shape = { ...one.shape, path: kept };
  one.box = controlBox(kept);
  return true;
}

/** Whether a place lies on a line, away from its ends. */
function liesOn(p: Point, other: Working): boolean {
  const { path } = other.shape;
  if (!touches(p, other)) return false;
  const { along } = nearestOnPath(path, p);
  return along > shortest && along < pathLength(path) - shortest;
}

/** Whether a place lies on a line, its ends included. */
function touches(p: Point, { shape, box }: Working): boolean {
  if (!meet(box, { minX: p.x, minY: p.y, maxX: p.x, maxY: p.y }, borderMatch)) return false;
  return nearestOnPath(shape.path, p).distance <= borderMatch;
}

function isAlong(p: Point, direction: Point, { shape }: Working): boolean {
  const near = nearestOnPath(shape.path, p);
  if (near.distance > borderMatch) return false;
  const { tangent } = pathPointAt(shape.path, near.along);
  return Math.abs(dot(tangent, direction)) >= Math.cos(goesOnStraight);
}

function sharedAreas(pages: readonly PdfPage[], places: readonly PagePlace[]): Bounds[] {
  const sizes = new Map(pages.map((page) => [page.number, page]));
  const boxes = places.flatMap(({ page, at }) => {
    const size = sizes.get(page);
    return size ? [{ minX: at.x, minY: at.y, maxX: at.x + size.width, maxY: at.y + size.height }] : [];
  });
  return boxes.flatMap((a, i) =>
    boxes.slice(i + 1).flatMap((b) => {
      const area = {
        minX: Math.max(a.minX, b.minX),
        minY: Math.max(a.minY, b.minY),
        maxX: Math.min(a.maxX, b.maxX),
        maxY: Math.min(a.maxY, b.maxY),
      };
      return area.maxX - area.minX > shortest && area.maxY - area.minY > shortest ? [area] : [];
    }),
  );
}

function meet(a: Bounds, b: Bounds, margin: number): boolean {
  return (
    a.minX <= b.maxX + margin && b.minX <= a.maxX + margin && a.minY <= b.maxY + margin && b.minY <= a.maxY + margin
  );
}
