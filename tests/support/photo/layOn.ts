import { nearestOnPath } from '../../../src/geometry/nearest';
import type { Point } from '../../../src/geometry/point';
import type { Path } from '../../../src/geometry/segment';
import { unitTangentAt } from '../../../src/geometry/tangent';

/** A turn about the origin, then a shift: nothing is stretched. */
export interface Move {
  readonly angle: number;
  readonly x: number;
  readonly y: number;
}

export function moved(move: Move, p: Point): Point {
  const c = Math.cos(move.angle);
  const s = Math.sin(move.angle);
  return { x: c * p.x - s * p.y + move.x, y: s * p.x + c * p.y + move.y };
}

/** The move that brings these places nearest to those, by least squares (closed form in the plane). */
export function bestMove(from: readonly Point[], to: readonly Point[]): Move {
  const middle = (points: readonly Point[]) => ({
    x: points.reduce((sum, { x }) => sum + x, 0) / points.length,
    y: points.reduce((sum, { y }) => sum + y, 0) / points.length,
  });
  const a = middle(from);
  const b = middle(to);
  let dot = 0;
  let cross = 0;
  from.forEach((p, i) => {
    const q = to[i]!;
    dot += (p.x - a.x) * (q.x - b.x) + (p.y - a.y) * (q.y - b.y);
    cross += (p.x - a.x) * (q.y - b.y) - (p.y - a.y) * (q.x - b.x);
  });
  const angle = Math.atan2(cross, dot);
  const turned = moved({ angle, x: 0, y: 0 }, a);
  return { angle, x: b.x - turned.x, y: b.y - turned.y };
}

/**
 * Lays a chain of points on an outline as one lays a paper piece on another: by turning and shifting, so that the squares
 * of the distances across the outline are least (Gauss and Newton on the distances along the outline's normals).
 */
export function layOn(points: readonly Point[], outline: Path, start: Move): Move {
  let move = start;
  for (let round = 0; round < 6; round++) {
    const n = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0];
    for (const point of points) {
      const p = moved(move, point);
      const foot = nearestOnPath(outline, p);
      const along = unitTangentAt(outline[foot.segment]!, foot.t);
      // Beside a corner the nearest way is not across an edge; on the outline itself only the edge says what is across.
      const far = foot.distance > 1e-6;
      const nx = far ? (p.x - foot.point.x) / foot.distance : along.y;
      const ny = far ? (p.y - foot.point.y) / foot.distance : -along.x;
      const row = [nx, ny, ny * p.x - nx * p.y];
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 3; j++) n[3 * i + j] = n[3 * i + j]! + row[i]! * row[j]!;
        n[9 + i] = n[9 + i]! - row[i]! * foot.distance;
      }
    }
    const [dx, dy, turn] = solve3(n);
    const shifted = moved({ angle: turn, x: dx, y: dy }, { x: move.x, y: move.y });
    move = { angle: move.angle + turn, x: shifted.x, y: shifted.y };
  }
  return move;
}

/** Three equations by Cramer's rule: nine coefficients row by row, then the right sides. */
function solve3(n: readonly number[]): [number, number, number] {
  const [a, b, c, d, e, f, g, h, i, p, q, r] = n as unknown as readonly [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return [
    (p * (e * i - f * h) - b * (q * i - f * r) + c * (q * h - e * r)) / det,
    (a * (q * i - f * r) - p * (d * i - f * g) + c * (d * r - q * g)) / det,
    (a * (e * r - q * h) - b * (d * r - q * g) + p * (d * h - e * g)) / det,
  ];
}
