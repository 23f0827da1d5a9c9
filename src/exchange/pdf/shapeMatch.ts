import type { Bounds } from '../../geometry/bounds';
import { distance, type Point } from '../../geometry/point';
import type { Path } from '../../geometry/segment';
import { sameShape } from '../../geometry/tolerance';
import { controlBox } from '../drawing/nearText';
import type { PdfPage, PdfShape } from './pdfReading';

/** A shape on its page, ready to be compared with others wherever they lie. */
export interface PlacedShape {
  readonly page: number;
  readonly shape: PdfShape;
  readonly box: Bounds;
  /** The reference point that moves with the shape: where its first segment starts. */
  readonly at: Point;
}

export function placedShapes(page: PdfPage): PlacedShape[] {
  return page.shapes.map((shape) => ({
    page: page.number,
    shape,
    box: controlBox(shape.path),
    at: shape.path[0]!.start,
  }));
}

/** mm. Sizes of equal shapes fall into the same or a neighbouring step. */
const step = 0.5;

/** mm. Places of shapes that lie on each other fall into the same or a neighbouring cell. */
const cell = 2;

/** Shapes by kind and size, so that equal ones are found quickly wherever they lie. */
export class ShapeIndex {
  private readonly byKey = new Map<string, PlacedShape[]>();

  add(placed: PlacedShape): void {
    put(this.byKey, keysOf(placed, 0)[0]!, placed);
  }

  /** All shapes equal to this one but for their place (itself included when it was added). */
  equalTo(placed: PlacedShape): PlacedShape[] {
    return keysOf(placed, sameShape)
      .flatMap((key) => this.byKey.get(key) ?? [])
      .filter((other) => areEqual(placed, other));
  }
}

/** Shapes by where they lie, so that equal ones at the same place are found quickly. */
export class PlaceIndex {
  private readonly byPlace = new Map<string, PlacedShape[]>();

  add(placed: PlacedShape): void {
    put(this.byPlace, placesOf(placed, 0)[0]!, placed);
  }

  /** All shapes equal to this one that lie within `give` mm of it (itself included when it was added). */
  equalAt(placed: PlacedShape, give: number): PlacedShape[] {
    return placesOf(placed, give)
      .flatMap((key) => this.byPlace.get(key) ?? [])
      .filter((other) => distance(other.at, placed.at) <= give && areEqual(placed, other));
  }
}

function put(map: Map<string, PlacedShape[]>, key: string, placed: PlacedShape): void {
  const held = map.get(key);
  if (held) held.push(placed);
  else map.set(key, [placed]);
}

function placesOf({ shape, at }: PlacedShape, give: number): string[] {
  const head = headOf(shape);
  const down = stepsOf(at.y, give, cell);
  return stepsOf(at.x, give, cell).flatMap((x) => down.map((y) => `${head}/${x}/${y}`));
}

function headOf(shape: PdfShape): string {
  return `${shape.path.length}/${shape.closed ? 'c' : 'o'}/${shape.colour}`;
}

/** The step a value falls into, and the neighbouring one it nearly falls into. */
function stepsOf(value: number, give: number, size: number): number[] {
  const low = Math.floor((value - give) / size);
  const high = Math.floor((value + give) / size);
  return low === high ? [low] : [low, high];
}

/** The name the shape is stored under, and those its equals may have been stored under. */
function keysOf({ shape, box }: PlacedShape, give: number): string[] {
  const head = headOf(shape);
  const tall = stepsOf(box.maxY - box.minY, give, step);
  return stepsOf(box.maxX - box.minX, give, step).flatMap((w) => tall.map((h) => `${head}/${w}/${h}`));
}

function areEqual(a: PlacedShape, b: PlacedShape): boolean {
  if (a === b) return true;
  return a.shape.strokeDash === b.shape.strokeDash && equalButForPlace(a.shape.path, b.shape.path);
}

/** Whether two paths are one path at two places. */
function equalButForPlace(a: Path, b: Path): boolean {
  const dx = b[0]!.start.x - a[0]!.start.x;
  const dy = b[0]!.start.y - a[0]!.start.y;
  const near = (p: Point, q: Point) => distance({ x: p.x + dx, y: p.y + dy }, q) <= sameShape;
  return a.every((s, i) => {
    const t = b[i]!;
    if (s.kind !== t.kind || !near(s.end, t.end)) return false;
    return s.kind === 'line' || t.kind === 'line' || (near(s.control1, t.control1) && near(s.control2, t.control2));
  });
}
