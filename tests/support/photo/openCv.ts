import { createRequire } from 'node:module';
import type { Point } from '../../../src/geometry/point';

/** The few calls of OpenCV 4.11 (compiled to run anywhere) that serve as a second opinion on homographies. */
interface Matrix {
  readonly data64F: Float64Array;
  delete(): void;
}

interface Cv {
  readonly CV_32FC2: number;
  readonly CV_64FC2: number;
  matFromArray(rows: number, columns: number, type: number, values: readonly number[]): Matrix;
  getPerspectiveTransform(from: Matrix, to: Matrix): Matrix;
  findHomography(from: Matrix, to: Matrix): Matrix;
}

export interface OpenCv {
  /** Nine numbers from four pairs; it rounds the places to single precision. */
  fromFour(from: readonly Point[], to: readonly Point[]): readonly number[];
  /** Nine numbers from any pairs, least squares. */
  fromMany(from: readonly Point[], to: readonly Point[]): readonly number[];
}

/** Loads it: a plain require, because the module's own promise confuses an import that is awaited. */
export async function openCv(): Promise<OpenCv> {
  type Loading = Cv & { Mat?: unknown; onRuntimeInitialized?: () => void };
  const loaded = createRequire(import.meta.url)('@techstark/opencv-js') as Loading | Promise<Loading>;
  const cv = await new Promise<{ readonly it: Cv }>((resolve) => {
    if (loaded instanceof Promise) void loaded.then((it) => resolve({ it }));
    else if (loaded.Mat !== undefined) resolve({ it: loaded });
    else loaded.onRuntimeInitialized = () => resolve({ it: loaded });
  });
  const { it } = cv;
  const run = (
    type: number,
    solve: (a: Matrix, b: Matrix) => Matrix,
    from: readonly Point[],
    to: readonly Point[],
  ): readonly number[] => {
    const a = it.matFromArray(
      from.length,
      1,
      type,
      from.flatMap(({ x, y }) => [x, y]),
    );
    const b = it.matFromArray(
      to.length,
      1,
      type,
      to.flatMap(({ x, y }) => [x, y]),
    );
    const h = solve(a, b);
    const numbers = Array.from(h.data64F);
    for (const matrix of [a, b, h]) matrix.delete();
    return numbers;
  };
  return {
    fromFour: (from, to) => run(it.CV_32FC2, (a, b) => it.getPerspectiveTransform(a, b), from, to),
    fromMany: (from, to) => run(it.CV_64FC2, (a, b) => it.findHomography(a, b), from, to),
  };
}
