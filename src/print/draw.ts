import { add, type Point, scale } from '../geometry/point';
import { cubic, line, type Path, type Segment } from '../geometry/segment';
import type { DrawnItem, DrawnPath, DrawnText, LineStyle, Tone } from './drawing';

/** Short ways to make drawn items; mm. */

export function stroke(path: Path, style: LineStyle): DrawnPath {
  return { kind: 'path', path, closed: false, line: style, fill: null };
}

export function strokeLine(from: Point, to: Point, style: LineStyle): DrawnPath {
  return stroke([line(from, to)], style);
}

export function closedShape(path: Path, style: LineStyle | null, fill: DrawnPath['fill'] = null): DrawnPath {
  return { kind: 'path', path, closed: true, line: style, fill };
}

export function polygonPath(points: readonly Point[]): Path {
  return points.map((p, i) => line(p, points[(i + 1) % points.length]!));
}

export function box(x: number, y: number, width: number, height: number): Path {
  return polygonPath([
    { x, y },
    { x, y: y + height },
    { x: x + width, y: y + height },
    { x: x + width, y },
  ]);
}

/** A circle of four cubics; off the true circle by at most 0.03 % of the radius. */
export function circlePath(centre: Point, radius: number): Path {
  const k = radius * 0.5522847498307936;
  const at = (x: number, y: number): Point => ({ x: centre.x + x, y: centre.y + y });
  const r = radius;
  return [
    cubic(at(r, 0), at(r, -k), at(k, -r), at(0, -r)),
    cubic(at(0, -r), at(-k, -r), at(-r, -k), at(-r, 0)),
    cubic(at(-r, 0), at(-r, k), at(-k, r), at(0, r)),
    cubic(at(0, r), at(k, r), at(r, k), at(r, 0)),
  ];
}

/** A filled arrow head with its tip at `tip`, pointing along the unit vector `towards`. */
export function arrowHead(tip: Point, towards: Point, length: number, tone: Tone = 'ink'): DrawnPath {
  const back = add(tip, scale(towards, -length));
  const half = length * 0.32;
  return closedShape(
    polygonPath([
      tip,
      { x: back.x - towards.y * half, y: back.y + towards.x * half },
      { x: back.x + towards.y * half, y: back.y - towards.x * half },
    ]),
    null,
    tone,
  );
}

export interface TextOptions {
  readonly align?: DrawnText['align'];
  readonly turn?: number;
  readonly tone?: Tone;
  readonly bold?: boolean;
}

export function words(text: string, at: Point, size: number, options: TextOptions = {}): DrawnText {
  return {
    kind: 'text',
    text,
    at,
    size,
    align: options.align ?? 'start',
    turn: options.turn ?? 0,
    tone: options.tone ?? 'ink',
    bold: options.bold ?? false,
  };
}

/** The item moved by a vector. */
export function shifted(item: DrawnItem, by: Point): DrawnItem {
  if (item.kind === 'text') return { ...item, at: add(item.at, by) };
  if (item.kind === 'path') return { ...item, path: item.path.map((s) => shiftSegment(s, by)) };
  return {
    ...item,
    box: {
      minX: item.box.minX + by.x,
      maxX: item.box.maxX + by.x,
      minY: item.box.minY + by.y,
      maxY: item.box.maxY + by.y,
    },
    items: item.items.map((inner) => shifted(inner, by)),
  };
}

function shiftSegment(segment: Segment, by: Point): Segment {
  return segment.kind === 'line'
    ? line(add(segment.start, by), add(segment.end, by))
    : cubic(add(segment.start, by), add(segment.control1, by), add(segment.control2, by), add(segment.end, by));
}
