import type { Point } from '../../geometry/point';
import { line, type Segment } from '../../geometry/segment';
import { arcCubics } from '../drawing/arc';
import { readLength, userLength, type Viewport } from './lengths';
import { type PathReading, readPathData, type SubPath } from './pathData';
import { readPoints } from './pointsData';

/** The strokes of one drawn element in its own coordinates, and what went wrong, if anything. */
export interface ElementOutline {
  readonly subPaths: readonly SubPath[];
  readonly problem: 'unreadable' | 'stopped' | 'too-many' | null;
  /** Some of its sizes carry mm, cm, in, pt or pc. */
  readonly physicalUnit: boolean;
  /** Segments read, those without length included. */
  readonly count: number;
}

type Attribute = (name: string) => string | undefined;

const drawnElements = ['path', 'line', 'polyline', 'polygon', 'rect', 'circle', 'ellipse'] as const;
export type DrawnElement = (typeof drawnElements)[number];

export function isDrawn(name: string): name is DrawnElement {
  return (drawnElements as readonly string[]).includes(name);
}

/** Strokes of a drawn element. At most `mostSegments` segments; a size of zero draws nothing, as SVG has it. */
export function elementOutline(
  name: DrawnElement,
  attribute: Attribute,
  viewport: Viewport,
  mostSegments: number,
): ElementOutline {
  if (name === 'path') return outlineOf(readPathData(attribute('d') ?? '', mostSegments));
  if (name === 'polyline' || name === 'polygon') {
    return outlineOf(readPoints(attribute('points') ?? '', name === 'polygon', mostSegments));
  }
  let physicalUnit = false;
  const watched = (key: string) => {
    const text = attribute(key);
    physicalUnit ||= readLength(text)?.kind === 'physical';
    return text;
  };
  const segments =
    name === 'line'
      ? lineSegments(watched, viewport)
      : name === 'rect'
        ? rectSegments(watched, viewport)
        : ellipseSegments(name, watched, viewport);
  if (!segments) return { subPaths: [], problem: 'unreadable', physicalUnit, count: 1 };
  const subPaths = segments.length > 0 ? [{ segments, closed: name !== 'line' }] : [];
  return { subPaths, problem: null, physicalUnit, count: segments.length };
}

function outlineOf({ subPaths, stoppedAt, count, tooMany }: PathReading): ElementOutline {
  const problem = tooMany ? 'too-many' : stoppedAt === null ? null : 'stopped';
  return { subPaths, problem, physicalUnit: false, count };
}

function lineSegments(attribute: Attribute, viewport: Viewport): Segment[] | null {
  const n = lengths(attribute, viewport, ['x1', 'y1', 'x2', 'y2']);
  if (!n) return null;
  const [x1, y1, x2, y2] = n as [number, number, number, number];
  return x1 === x2 && y1 === y2 ? [] : [line({ x: x1, y: y1 }, { x: x2, y: y2 })];
}

function rectSegments(attribute: Attribute, viewport: Viewport): Segment[] | null {
  const n = lengths(attribute, viewport, ['x', 'y', 'width', 'height']);
  const radii = cornerRadii(attribute, viewport);
  if (!n || !radii) return null;
  const [x, y, width, height] = n as [number, number, number, number];
  if (width < 0 || height < 0) return null;
  if (width === 0 || height === 0) return [];
  return roundedRect(x, y, width, height, Math.min(radii.rx, width / 2), Math.min(radii.ry, height / 2));
}

/** One radius given and the other left out (or `auto`) means both are the same. */
function cornerRadii(attribute: Attribute, viewport: Viewport): { rx: number; ry: number } | null {
  const read = (name: string, axis: 'across' | 'down') => {
    const text = attribute(name);
    if (text === undefined || text.trim() === 'auto') return 'auto';
    return userLength(text, viewport, axis);
  };
  const rx = read('rx', 'across');
  const ry = read('ry', 'down');
  if (rx === null || ry === null) return null;
  const both = { rx: rx === 'auto' ? (ry === 'auto' ? 0 : ry) : rx, ry: ry === 'auto' ? (rx === 'auto' ? 0 : rx) : ry };
  if (both.rx < 0 || both.ry < 0) return null;
  // A corner round in one direction only is square.
  return both.rx === 0 || both.ry === 0 ? { rx: 0, ry: 0 } : both;
}

function roundedRect(x: number, y: number, width: number, height: number, rx: number, ry: number): Segment[] {
  const right = x + width;
  const bottom = y + height;
  const innerLeft = x + rx;
  const innerTop = y + ry;
  // Where the two rounded corners of a side meet, both must name the same point.
  const innerRight = rx === width / 2 ? innerLeft : right - rx;
  const innerBottom = ry === height / 2 ? innerTop : bottom - ry;
  const segments: Segment[] = [];
  const side = (start: Point, end: Point) => {
    if (start.x !== end.x || start.y !== end.y) segments.push(line(start, end));
  };
  const corner = (centre: Point, from: number, start: Point, end: Point) => {
    if (rx === 0) return;
    const arc = { centre, axisX: { x: rx, y: 0 }, axisY: { x: 0, y: ry }, from, sweep: Math.PI / 2 };
    segments.push(...arcCubics(arc, start, end));
  };
  // Clockwise from the upper left, as SVG draws it.
  side({ x: innerLeft, y }, { x: innerRight, y });
  corner({ x: innerRight, y: innerTop }, -Math.PI / 2, { x: innerRight, y }, { x: right, y: innerTop });
  side({ x: right, y: innerTop }, { x: right, y: innerBottom });
  corner({ x: innerRight, y: innerBottom }, 0, { x: right, y: innerBottom }, { x: innerRight, y: bottom });
  side({ x: innerRight, y: bottom }, { x: innerLeft, y: bottom });
  corner({ x: innerLeft, y: innerBottom }, Math.PI / 2, { x: innerLeft, y: bottom }, { x, y: innerBottom });
  side({ x, y: innerBottom }, { x, y: innerTop });
  corner({ x: innerLeft, y: innerTop }, Math.PI, { x, y: innerTop }, { x: innerLeft, y });
  return segments;
}

function ellipseSegments(name: 'circle' | 'ellipse', attribute: Attribute, viewport: Viewport): Segment[] | null {
  const n = lengths(attribute, viewport, ['cx', 'cy', 'r']);
  if (!n) return null;
  const [cx, cy, r] = n as [number, number, number];
  const radii = name === 'circle' ? { rx: r, ry: r } : cornerRadii(attribute, viewport);
  if (!radii || radii.rx < 0) return null;
  const { rx, ry } = radii;
  if (rx === 0 || ry === 0) return [];
  const arc = { centre: { x: cx, y: cy }, axisX: { x: rx, y: 0 }, axisY: { x: 0, y: ry }, from: 0, sweep: 2 * Math.PI };
  const start = { x: cx + rx, y: cy };
  return arcCubics(arc, start, start);
}

/** Several lengths at once, each 0 when left out; null when one cannot be read. */
function lengths(attribute: Attribute, viewport: Viewport, names: readonly string[]): number[] | null {
  const values: number[] = [];
  for (const name of names) {
    const text = attribute(name);
    const axis = name === 'r' ? 'either' : /^(?:x|cx|rx|width)/.test(name) ? 'across' : 'down';
    const value = text === undefined || text.trim() === 'auto' ? 0 : userLength(text, viewport, axis);
    if (value === null) return null;
    values.push(value);
  }
  return values;
}
