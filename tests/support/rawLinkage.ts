import type { Point } from '../../src/geometry/point';

/**
 * An independent solver for the linkage: every panel is three unknowns (x, y, angle), every hinge and opening an
 * equation between moved points, solved together by Newton with a numeric Jacobian. It shares no code with the product:
 * no tree walk, no signs of sides, no composed rotations.
 */
export interface RawPose {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
}

export type RawConstraint = (pose: (panel: number, p: Point) => Point, angle: (panel: number) => number) => number[];

/** Poses of all panels; `fixed` stays. Throws if Newton does not settle to 1e-9 mm. */
export function solveRawLinkage(
  panels: number,
  fixed: number,
  constraints: readonly RawConstraint[],
  firstGuess: readonly RawPose[],
): RawPose[] {
  const free = Array.from({ length: panels }, (_, i) => i).filter((i) => i !== fixed);
  const unknowns = free.flatMap((i) => [firstGuess[i]!.x, firstGuess[i]!.y, firstGuess[i]!.angle]);
  const posesOf = (values: readonly number[]): RawPose[] => {
    const poses: RawPose[] = Array.from({ length: panels }, () => ({ x: 0, y: 0, angle: 0 }));
    free.forEach((panel, k) => {
      poses[panel] = { x: values[3 * k]!, y: values[3 * k + 1]!, angle: values[3 * k + 2]! };
    });
    return poses;
  };
  const residual = (values: readonly number[]): number[] => {
    const poses = posesOf(values);
    const moved = (panel: number, p: Point): Point => {
      const { x, y, angle } = poses[panel]!;
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      return { x: c * p.x - s * p.y + x, y: s * p.x + c * p.y + y };
    };
    return constraints.flatMap((constraint) => constraint(moved, (panel) => poses[panel]!.angle));
  };
  let values = unknowns;
  for (let step = 0; step < 60; step++) {
    const r = residual(values);
    if (r.length !== values.length) throw new Error(`${r.length} equations for ${values.length} unknowns`);
    const worst = Math.max(...r.map(Math.abs));
    if (worst < 1e-11) break;
    const jacobian = r.map(() => new Array<number>(values.length).fill(0));
    values.forEach((value, column) => {
      const h = column % 3 === 2 ? 1e-6 : 1e-3;
      const up = residual(values.map((v, i) => (i === column ? value + h : v)));
      const down = residual(values.map((v, i) => (i === column ? value - h : v)));
      up.forEach((u, row) => {
        jacobian[row]![column] = (u - down[row]!) / (2 * h);
      });
    });
    const change = solveDense(jacobian, r);
    const biggest = Math.max(...change.map((c, i) => Math.abs(c) / (i % 3 === 2 ? 0.3 : 200)));
    const damping = Math.min(1, 1 / biggest);
    values = values.map((v, i) => v - damping * change[i]!);
  }
  const worst = Math.max(...residual(values).map(Math.abs));
  if (!(worst < 1e-9)) throw new Error(`Newton stopped at ${worst}`);
  return posesOf(values);
}

/** Gauss elimination with column pivots. */
function solveDense(matrix: number[][], right: readonly number[]): number[] {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    }
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    for (let row = 0; row < n; row++) {
      if (row === column) continue;
      const factor = rows[row]![column]! / rows[column]![column]!;
      for (let k = column; k <= n; k++) rows[row]![k]! -= factor * rows[column]![k]!;
    }
  }
  return rows.map((row, i) => row[n]! / row[i]!);
}
