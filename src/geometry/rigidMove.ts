import type { Point } from './point';
import type { Path, Segment } from './segment';

/**
 * A rotation followed by a translation: p' = R(angle) p + (tx, ty), angle in radians (x towards y), mm.
 * `angle` is kept beside cos and sin so that turns add exactly and never wrap.
 */
export interface RigidMove {
  readonly angle: number;
  readonly cos: number;
  readonly sin: number;
  readonly tx: number;
  readonly ty: number;
}

export const stayPut: RigidMove = { angle: 0, cos: 1, sin: 0, tx: 0, ty: 0 };

/** Rotation by `angle` about `centre`. */
export function turnAbout(centre: Point, angle: number): RigidMove {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  // 1 - cos written as 2 sin^2(a/2) keeps full precision for small turns.
  const half = Math.sin(angle / 2);
  const versine = 2 * half * half;
  return {
    angle,
    cos,
    sin,
    tx: versine * centre.x + sin * centre.y,
    ty: versine * centre.y - sin * centre.x,
  };
}

export function shiftBy(vector: Point): RigidMove {
  return { angle: 0, cos: 1, sin: 0, tx: vector.x, ty: vector.y };
}

/** The move that does `inner` first, then `outer`. */
export function compose(outer: RigidMove, inner: RigidMove): RigidMove {
  const angle = outer.angle + inner.angle;
  return {
    angle,
    cos: Math.cos(angle),
    sin: Math.sin(angle),
    tx: outer.cos * inner.tx - outer.sin * inner.ty + outer.tx,
    ty: outer.sin * inner.tx + outer.cos * inner.ty + outer.ty,
  };
}

export function invert(move: RigidMove): RigidMove {
  return {
    angle: -move.angle,
    cos: move.cos,
    sin: -move.sin,
    tx: -(move.cos * move.tx + move.sin * move.ty),
    ty: move.sin * move.tx - move.cos * move.ty,
  };
}

export function movePoint(move: RigidMove, p: Point): Point {
  return { x: move.cos * p.x - move.sin * p.y + move.tx, y: move.sin * p.x + move.cos * p.y + move.ty };
}

export function moveVector(move: RigidMove, v: Point): Point {
  return { x: move.cos * v.x - move.sin * v.y, y: move.sin * v.x + move.cos * v.y };
}

export function moveSegment(move: RigidMove, segment: Segment): Segment {
  return segment.kind === 'line'
    ? { kind: 'line', start: movePoint(move, segment.start), end: movePoint(move, segment.end) }
    : {
        kind: 'cubic',
        start: movePoint(move, segment.start),
        control1: movePoint(move, segment.control1),
        control2: movePoint(move, segment.control2),
        end: movePoint(move, segment.end),
      };
}

export function movePath(move: RigidMove, path: Path): Path {
  return path.map((segment) => moveSegment(move, segment));
}
