import { cross, type Point, subtract } from '../../geometry/point';
import type { FlatZone } from './flatZones';
import type { Quad } from './pictureView';

/** A four-cornered outline of a zone. */
export interface ZoneQuad {
  readonly corners: Quad;
  /** Dots of the reduced picture. */
  readonly area: number;
  /** Share of the weakest side that the border of the zone follows. */
  readonly weakest: number;
  /** The same for all four sides together. */
  readonly followed: number;
}

/** Dots of the reduced picture: the border lies this near to a side that it follows. */
const near = 1.6;

/** The zone's dots stop short of the edge by about this, because the edge itself is steep for two dots. */
const short = 1;

/** The four straight lines that go best round a zone, or null where it is not four-cornered. */
export function quadOfZone(
  rank: Int32Array,
  width: number,
  height: number,
  zone: FlatZone,
  marks: Int32Array,
  mark: number,
): ZoneQuad | null {
  const border = outermost(flood(rank, width, height, zone, marks, mark), width, height);
  const hull = convexHull(border);
  const rough = fourSides(hull);
  if (rough === null) return null;
  const lines = rough.map((a, i) => followLine(border, a, rough[(i + 1) % 4]!));
  const corners = lines.map((line, i) => meet(lines[(i + 3) % 4]!, line));
  if (corners.some((p) => p === null || p.x < -2 || p.y < -2 || p.x > width + 2 || p.y > height + 2)) return null;
  const quad = corners as unknown as Quad;
  const shares = quad.map((a, i) => shareFollowed(border, a, quad[(i + 1) % 4]!));
  const area = areaOf(quad);
  // The border may follow the lines and still enclose something else: a frame, or a zone with a large bite.
  if (area <= 0 || zone.area < 0.6 * area || zone.area > 1.15 * area) return null;
  return { corners: quad, area, weakest: Math.min(...shares), followed: shares.reduce((sum, s) => sum + s, 0) / 4 };
}

/** The dots of a zone. */
function flood(
  rank: Int32Array,
  width: number,
  height: number,
  zone: FlatZone,
  marks: Int32Array,
  mark: number,
): Int32Array {
  const dots = new Int32Array(zone.area);
  let count = 0;
  let next = 0;
  dots[count++] = zone.seed;
  marks[zone.seed] = mark;
  const visit = (i: number): void => {
    if (marks[i] === mark || rank[i]! >= zone.limit || count >= dots.length) return;
    marks[i] = mark;
    dots[count++] = i;
  };
  while (next < count) {
    const i = dots[next++]!;
    const x = i % width;
    if (x > 0) visit(i - 1);
    if (x + 1 < width) visit(i + 1);
    if (i >= width) visit(i - width);
    if (i + width < width * height) visit(i + width);
  }
  return dots.subarray(0, count);
}

/** The outermost dots of every row and every column. */
function outermost(dots: Int32Array, width: number, height: number): Point[] {
  const left = new Int32Array(height).fill(width);
  const right = new Int32Array(height).fill(-1);
  const top = new Int32Array(width).fill(height);
  const bottom = new Int32Array(width).fill(-1);
  for (const i of dots) {
    const y = (i / width) | 0;
    const x = i - y * width;
    if (x < left[y]!) left[y] = x;
    if (x > right[y]!) right[y] = x;
    if (y < top[x]!) top[x] = y;
    if (y > bottom[x]!) bottom[x] = y;
  }
  const places: Point[] = [];
  for (let y = 0; y < height; y++) {
    if (right[y]! >= 0) places.push({ x: left[y]! + 0.5, y: y + 0.5 }, { x: right[y]! + 0.5, y: y + 0.5 });
  }
  for (let x = 0; x < width; x++) {
    if (bottom[x]! >= 0) places.push({ x: x + 0.5, y: top[x]! + 0.5 }, { x: x + 0.5, y: bottom[x]! + 0.5 });
  }
  return places;
}

/** Clockwise on screen (Andrew's monotone chain, from memory). */
function convexHull(places: readonly Point[]): Point[] {
  const sorted = [...places].sort((a, b) => a.x - b.x || a.y - b.y);
  const half = (points: readonly Point[]): Point[] => {
    const chain: Point[] = [];
    for (const p of points) {
      while (chain.length >= 2 && cross(subtract(chain.at(-1)!, chain.at(-2)!), subtract(p, chain.at(-1)!)) <= 0)
        chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** The hull with sides taken away, always the one whose neighbours meet with the least area added, until four are left. */
function fourSides(hull: readonly Point[]): Point[] | null {
  let corners = [...hull];
  while (corners.length > 4) {
    let least = Number.POSITIVE_INFINITY;
    let best: { readonly at: number; readonly place: Point } | null = null;
    const n = corners.length;
    for (let i = 0; i < n; i++) {
      const [p, a, b, q] = [corners[(i + n - 1) % n]!, corners[i]!, corners[(i + 1) % n]!, corners[(i + 2) % n]!];
      const place = meetLines(p, a, q, b);
      if (place === null) continue;
      const added = Math.abs(cross(subtract(place, a), subtract(b, a))) / 2;
      if (added < least) {
        least = added;
        best = { at: i, place };
      }
    }
    if (best === null) return null;
    const { at, place } = best;
    corners = corners.flatMap((corner, i) => (i === at ? [place] : i === (at + 1) % n ? [] : [corner]));
  }
  return corners.length === 4 ? corners : null;
}

/** Where p to a, carried on, meets q to b, carried on; null when they part. */
function meetLines(p: Point, a: Point, q: Point, b: Point): Point | null {
  const u = subtract(a, p);
  const v = subtract(b, q);
  const across = cross(u, v);
  if (Math.abs(across) < 1e-9) return null;
  const t = cross(subtract(b, a), v) / across;
  const s = cross(subtract(b, a), u) / across;
  return t >= 0 && s >= 0 ? { x: a.x + u.x * t, y: a.y + u.y * t } : null;
}

interface Line {
  readonly at: Point;
  readonly along: Point;
}

/** The line through most of the border near the side a to b, moved out to the edge. */
function followLine(border: readonly Point[], a: Point, b: Point): Line {
  let at = a;
  let along = unitOf(subtract(b, a));
  const reach = Math.hypot(b.x - a.x, b.y - a.y);
  for (const limit of [Math.max(4, 0.03 * reach), 3, near]) {
    const close = border.filter((p) => {
      const d = subtract(p, at);
      const t = d.x * along.x + d.y * along.y;
      return t > 0.03 * reach && t < 0.97 * reach && Math.abs(cross(along, d)) < limit;
    });
    if (close.length < 8) break;
    let [mx, my] = [0, 0];
    for (const p of close) {
      mx += p.x / close.length;
      my += p.y / close.length;
    }
    let [xx, xy, yy] = [0, 0, 0];
    for (const p of close) {
      xx += (p.x - mx) ** 2;
      xy += (p.x - mx) * (p.y - my);
      yy += (p.y - my) ** 2;
    }
    const angle = Math.atan2(2 * xy, xx - yy) / 2;
    const sign = Math.cos(angle) * along.x + Math.sin(angle) * along.y < 0 ? -1 : 1;
    along = { x: sign * Math.cos(angle), y: sign * Math.sin(angle) };
    const back = (a.x - mx) * along.x + (a.y - my) * along.y;
    at = { x: mx + along.x * back, y: my + along.y * back };
  }
  // Corners run clockwise on screen: outward is (y, -x) of the way along.
  return { at: { x: at.x + short * along.y, y: at.y - short * along.x }, along };
}

function unitOf(v: Point): Point {
  const length = Math.hypot(v.x, v.y) || 1;
  return { x: v.x / length, y: v.y / length };
}

function meet(a: Line, b: Line): Point | null {
  const across = cross(a.along, b.along);
  if (Math.abs(across) < 0.2) return null;
  const t = cross(subtract(b.at, a.at), b.along) / across;
  return { x: a.at.x + a.along.x * t, y: a.at.y + a.along.y * t };
}

/** Share of a side, in steps of two dots, that has border within reach. */
function shareFollowed(border: readonly Point[], a: Point, b: Point): number {
  const along = unitOf(subtract(b, a));
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const cells = new Uint8Array(Math.max(1, Math.ceil(length / 2)));
  for (const p of border) {
    const d = subtract(p, a);
    const t = d.x * along.x + d.y * along.y;
    if (t >= 0 && t < length && Math.abs(cross(along, d) - short) < near) cells[Math.floor(t / 2)] = 1;
  }
  return cells.reduce((sum, cell) => sum + cell, 0) / cells.length;
}

function areaOf(quad: Quad): number {
  return quad.reduce((sum, p, i) => sum + cross(p, quad[(i + 1) % 4]!), 0) / 2;
}
