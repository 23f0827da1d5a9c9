import type { Point } from '../../geometry/point';

/**
 * True when the closed polygon crosses or touches itself other than at neighbouring corners.
 * Sweeps the sides from left to right, so that only sides that overlap in x are compared.
 */
export function crossesItself(polygon: readonly Point[]): boolean {
  const count = polygon.length;
  const order = polygon.map((_, i) => i);
  const left = polygon.map((p, i) => Math.min(p.x, polygon[(i + 1) % count]!.x));
  const right = polygon.map((p, i) => Math.max(p.x, polygon[(i + 1) % count]!.x));
  order.sort((i, j) => left[i]! - left[j]!);
  let open: number[] = [];
  for (const i of order) {
    const stillOpen: number[] = [];
    for (const j of open) {
      if (right[j]! < left[i]!) continue;
      stillOpen.push(j);
      const apart = Math.abs(i - j);
      if (apart === 1 || apart === count - 1) continue;
      if (sidesMeet(polygon[i]!, polygon[(i + 1) % count]!, polygon[j]!, polygon[(j + 1) % count]!)) return true;
    }
    stillOpen.push(i);
    open = stillOpen;
  }
  return false;
}

function sidesMeet(a: Point, b: Point, c: Point, d: Point): boolean {
  if (Math.max(a.y, b.y) < Math.min(c.y, d.y) || Math.max(c.y, d.y) < Math.min(a.y, b.y)) return false;
  const c1 = side(a, b, c);
  const d1 = side(a, b, d);
  if (c1 > 0 === d1 > 0 && c1 !== 0 && d1 !== 0) return false;
  const a1 = side(c, d, a);
  const b1 = side(c, d, b);
  return !(a1 > 0 === b1 > 0 && a1 !== 0 && b1 !== 0);
}

function side(a: Point, b: Point, p: Point): number {
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}
