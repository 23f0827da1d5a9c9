import { flattenPath } from '../../../src/geometry/flatten';
import type { Point } from '../../../src/geometry/point';
import { cubic, line, type Path } from '../../../src/geometry/segment';
import type { Clutter, Sheet } from './scene';

/** A closed path of lines through these points. */
export function polygon(points: readonly Point[]): Path {
  return points.map((point, i) => line(point, points[(i + 1) % points.length]!));
}

/** A point given in a frame that lies at `at`, turned by `angle`. */
export function placed(point: Point, at: Point, angle: number): Point {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { x: at.x + c * point.x - s * point.y, y: at.y + s * point.x + c * point.y };
}

/** Upper left, upper right, lower right, lower left as the sheet lies. */
export function sheetCorners({ width, height, at, angle }: Sheet): [Point, Point, Point, Point] {
  const corner = (x: number, y: number) => placed({ x, y }, at, angle);
  return [corner(0, 0), corner(width, 0), corner(width, height), corner(0, height)];
}

export function placedPath(path: Path, at: Point, angle: number): Path {
  const move = (p: Point) => placed(p, at, angle);
  return path.map((s) =>
    s.kind === 'line'
      ? line(move(s.start), move(s.end))
      : cubic(move(s.start), move(s.control1), move(s.control2), move(s.end)),
  );
}

/**
 * Points along a closed path, chords within 0.0005 mm of it and no longer than `longest` mm, so that a lens that bends
 * straight lines bends these too.
 */
export function chain(path: Path, longest = 2): Point[] {
  const corners = flattenPath(path, 0.0005);
  const points: Point[] = [];
  for (let i = 0; i + 1 < corners.length; i++) {
    const a = corners[i]!;
    const b = corners[i + 1]!;
    const parts = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / longest));
    for (let k = 0; k < parts; k++)
      points.push({ x: a.x + ((b.x - a.x) * k) / parts, y: a.y + ((b.y - a.y) * k) / parts });
  }
  return points;
}

/** The chain moved sideways by `by` mm, corners mitred (cut off beyond twice the distance). */
export function beside(points: readonly Point[], by: number): Point[] {
  const n = points.length;
  const normal = (i: number): Point => {
    const a = points[(i + n) % n]!;
    const b = points[(i + 1 + n) % n]!;
    const l = Math.hypot(b.x - a.x, b.y - a.y);
    return { x: (b.y - a.y) / l, y: -(b.x - a.x) / l };
  };
  return points.map((p, i) => {
    const a = normal(i - 1);
    const b = normal(i);
    const k = Math.min(2, 1 / Math.max(1e-9, 1 + a.x * b.x + a.y * b.y)) * by;
    return { x: p.x + (a.x + b.x) * k, y: p.y + (a.y + b.y) * k };
  });
}

function ellipse(rx: number, ry: number): Path {
  // Four cubics, 0.03 % off a true ellipse; nothing is measured on it.
  const k = 0.5522847498;
  const p = (x: number, y: number): Point => ({ x: x * rx, y: y * ry });
  return [
    cubic(p(1, 0), p(1, k), p(k, 1), p(0, 1)),
    cubic(p(0, 1), p(-k, 1), p(-1, k), p(-1, 0)),
    cubic(p(-1, 0), p(-1, -k), p(-k, -1), p(0, -1)),
    cubic(p(0, -1), p(k, -1), p(1, -k), p(1, 0)),
  ];
}

const steel = [0.12, 0.12, 0.13] as const;

/** Open shears, 220 mm long: two dark blades and two bows. */
export function shears(at: Point, angle: number): Clutter[] {
  const blade = (lean: number) =>
    polygon(
      [
        { x: 0, y: -6 },
        { x: 125, y: 0 },
        { x: 0, y: 7 },
        { x: -20, y: 6 },
        { x: -20, y: -5 },
      ].map((p) => placed(p, at, angle + lean)),
    );
  const bow = (lean: number) => placedPath(ellipse(32, 17), placed({ x: -48, y: 0 }, at, angle + lean), angle + lean);
  return [0.22, -0.22].flatMap((lean) => [
    { path: blade(lean), colour: steel, thickness: 3, opacity: 1 },
    { path: bow(-1.4 * lean), colour: [0.02, 0.02, 0.02], thickness: 6, opacity: 1 },
  ]);
}

/** A pin 30 mm long with a coloured head. */
export function pin(at: Point, angle: number): Clutter[] {
  const shaft = polygon(
    [
      { x: 0, y: -0.35 },
      { x: 30, y: -0.35 },
      { x: 30, y: 0.35 },
      { x: 0, y: 0.35 },
    ].map((p) => placed(p, at, angle)),
  );
  return [
    { path: shaft, colour: [0.4, 0.4, 0.42], thickness: 0.8, opacity: 1 },
    { path: placedPath(ellipse(2, 2), at, angle), colour: [0.5, 0.03, 0.05], thickness: 2, opacity: 1 },
  ];
}

/** A strip of clear tape, 15 mm by 60 mm. */
export function tape(at: Point, angle: number): Clutter {
  const strip = [
    { x: 0, y: 0 },
    { x: 60, y: 0 },
    { x: 60, y: 15 },
    { x: 0, y: 15 },
  ];
  return {
    path: polygon(strip.map((p) => placed(p, at, angle))),
    colour: [0.6, 0.56, 0.44],
    thickness: 0,
    opacity: 0.3,
  };
}

/** As large as a hand, in the colour of skin. */
export function hand(at: Point, angle: number): Clutter {
  return { path: placedPath(ellipse(85, 48), at, angle), colour: [0.45, 0.27, 0.19], thickness: 12, opacity: 1 };
}

/** A measuring tape laid straight: 16 mm by `length` mm, yellow. */
export function measuringTape(at: Point, angle: number, length: number): Clutter {
  const strip = [
    { x: 0, y: 0 },
    { x: length, y: 0 },
    { x: length, y: 16 },
    { x: 0, y: 16 },
  ];
  return {
    path: polygon(strip.map((p) => placed(p, at, angle))),
    colour: [0.7, 0.5, 0.06],
    thickness: 0.4,
    opacity: 1,
  };
}
