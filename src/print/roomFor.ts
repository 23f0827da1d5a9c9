import type { Point } from '../geometry/point';
import type { Ink } from './ink';

/** A box with sides along the axes, mm. */
export interface Room {
  readonly width: number;
  readonly height: number;
}

/** Places tried across the shorter side of the outline. */
const steps = 24;
/** Free room round the box, mm: less is too little, more is no better. */
const leastRoom = 1;
const enoughRoom = 25;

/**
 * The best centre for a box inside an outline (closed, as points), clear of the given ink: the one with most free room
 * round it, where `cost` (mm) speaks against places. Null when the box fits nowhere.
 */
export function roomFor(
  room: Room,
  outline: readonly Point[],
  obstacles: Ink,
  cost: (centre: Point) => number,
): Point | null {
  const xs = outline.map((p) => p.x);
  const ys = outline.map((p) => p.y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const step = Math.max(3, Math.min(maxX - minX, maxY - minY) / steps);
  const walls: Ink = [[...outline, outline[0]!], ...obstacles];
  let best: Point | null = null;
  let bestScore = Number.NEGATIVE_INFINITY;
  for (let y = minY + step; y < maxY; y += step) {
    for (let x = minX + step; x < maxX; x += step) {
      const centre = { x, y };
      if (!isInside(centre, outline)) continue;
      const speaksAgainst = cost(centre);
      if (enoughRoom - speaksAgainst <= bestScore) continue;
      const free = clearanceOf(centre, room, walls, enoughRoom);
      if (free < leastRoom) continue;
      const score = free - speaksAgainst;
      if (score > bestScore) {
        best = centre;
        bestScore = score;
      }
    }
  }
  return best;
}

/** Even-odd rule. */
export function isInside(p: Point, outline: readonly Point[]): boolean {
  let inside = false;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
  });
  return inside;
}

/** Distance from a box to the nearest chain, mm; 0 when one passes through it, at most `enough`. */
export function clearanceOf(centre: Point, room: Room, chains: Ink, enough = Number.POSITIVE_INFINITY): number {
  const halfX = room.width / 2;
  const halfY = room.height / 2;
  let least = enough;
  for (const chain of chains) {
    for (let i = 1; i < chain.length; i++) {
      const ax = chain[i - 1]!.x - centre.x;
      const ay = chain[i - 1]!.y - centre.y;
      const bx = chain[i]!.x - centre.x;
      const by = chain[i]!.y - centre.y;
      const reachX = halfX + least;
      const reachY = halfY + least;
      if ((ax > reachX && bx > reachX) || (ax < -reachX && bx < -reachX)) continue;
      if ((ay > reachY && by > reachY) || (ay < -reachY && by < -reachY)) continue;
      least = Math.min(least, boxToLine(ax, ay, bx, by, halfX, halfY));
      if (least === 0) return 0;
    }
  }
  return least;
}

/** Distance from a stretch of line to a box about the origin: by the line's ends, the box's corners and a crossing. */
function boxToLine(ax: number, ay: number, bx: number, by: number, halfX: number, halfY: number): number {
  if (crossesBox(ax, ay, bx, by, halfX, halfY)) return 0;
  let least = Math.min(pointToBox(ax, ay, halfX, halfY), pointToBox(bx, by, halfX, halfY));
  const dx = bx - ax;
  const dy = by - ay;
  const length2 = dx * dx + dy * dy;
  if (length2 === 0) return least;
  for (let k = 0; k < 4; k++) {
    const cx = k < 2 ? -halfX : halfX;
    const cy = k % 2 === 0 ? -halfY : halfY;
    const t = Math.max(0, Math.min(1, ((cx - ax) * dx + (cy - ay) * dy) / length2));
    least = Math.min(least, Math.hypot(ax + t * dx - cx, ay + t * dy - cy));
  }
  return least;
}

function pointToBox(x: number, y: number, halfX: number, halfY: number): number {
  return Math.hypot(Math.max(0, Math.abs(x) - halfX), Math.max(0, Math.abs(y) - halfY));
}

/** Whether some of a stretch of line lies in a box about the origin (clipping after Liang and Barsky). */
function crossesBox(ax: number, ay: number, bx: number, by: number, halfX: number, halfY: number): boolean {
  const dx = bx - ax;
  const dy = by - ay;
  let from = 0;
  let to = 1;
  if (dx === 0) {
    if (Math.abs(ax) > halfX) return false;
  } else {
    const t1 = (-halfX - ax) / dx;
    const t2 = (halfX - ax) / dx;
    from = Math.max(from, Math.min(t1, t2));
    to = Math.min(to, Math.max(t1, t2));
  }
  if (dy === 0) {
    if (Math.abs(ay) > halfY) return false;
  } else {
    const t1 = (-halfY - ay) / dy;
    const t2 = (halfY - ay) / dy;
    from = Math.max(from, Math.min(t1, t2));
    to = Math.min(to, Math.max(t1, t2));
  }
  return from <= to;
}
