/** Points and vectors of the plane. Millimetres, x to the right, y down. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export function point(x: number, y: number): Point {
  return { x, y };
}

export function add(a: Point, b: Point): Point {
  return { x: a.x + b.x, y: a.y + b.y };
}

export function subtract(a: Point, b: Point): Point {
  return { x: a.x - b.x, y: a.y - b.y };
}

export function scale(a: Point, factor: number): Point {
  return { x: a.x * factor, y: a.y * factor };
}

/** a + (b - a) t. Exact at both ends. */
export function mix(a: Point, b: Point, t: number): Point {
  return t === 1 ? b : { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
}

export function dot(a: Point, b: Point): number {
  return a.x * b.x + a.y * b.y;
}

/** z component of the cross product; positive when b lies turned from a in the sense x towards y (clockwise on screen). */
export function cross(a: Point, b: Point): number {
  return a.x * b.y - a.y * b.x;
}

/** Length of a vector, mm. (Math.hypot costs several times as much and guards sizes that no garment has.) */
export function norm(a: Point): number {
  return Math.sqrt(a.x * a.x + a.y * a.y);
}

export function distance(a: Point, b: Point): number {
  const x = b.x - a.x;
  const y = b.y - a.y;
  return Math.sqrt(x * x + y * y);
}

/** Unit vector in the direction of a; the zero vector stays zero. */
export function unit(a: Point): Point {
  const length = norm(a);
  return length === 0 ? { x: 0, y: 0 } : { x: a.x / length, y: a.y / length };
}

/** The vector turned by +90 degrees (x towards y). For a direction of travel along an outline it points outward. */
export function quarterTurn(a: Point): Point {
  return { x: -a.y, y: a.x };
}

/** The vector turned by `angle` radians, positive from x towards y. */
export function turn(a: Point, angle: number): Point {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { x: c * a.x - s * a.y, y: s * a.x + c * a.y };
}

/** Direction of a vector in radians, in (-pi, pi], positive from x towards y. */
export function heading(a: Point): number {
  return Math.atan2(a.y, a.x);
}

/** Signed angle from a to b in radians, in (-pi, pi], positive from x towards y. */
export function angleBetween(a: Point, b: Point): number {
  return Math.atan2(cross(a, b), dot(a, b));
}
