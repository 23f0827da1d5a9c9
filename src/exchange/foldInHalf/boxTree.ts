import type { Bounds } from '../../geometry/bounds';
import type { Point } from '../../geometry/point';

/**
 * Boxes of things that follow each other along a line, in a tree of boxes round ever longer runs of them (a bounding
 * volume hierarchy), to find which of them lies nearest a point without looking at most of them.
 */
export interface BoxTree {
  /**
   * Index of the thing nearest to `p`. `squareTo` gives the square of a thing's distance; `guess` is looked at first,
   * which is quick where it lies near the last answer.
   */
  nearest(p: Point, squareTo: (index: number) => number, guess: number): number;
}

export function boxTree(boxes: readonly Bounds[]): BoxTree {
  const count = boxes.length;
  let width = 1;
  while (width < count) width *= 2;
  // Node 1 is the root, the children of node n are 2 n and 2 n + 1, and `width` is the first leaf. Empty boxes are never near.
  const minX = new Float64Array(2 * width).fill(Number.POSITIVE_INFINITY);
  const minY = minX.slice();
  const maxX = new Float64Array(2 * width).fill(Number.NEGATIVE_INFINITY);
  const maxY = maxX.slice();
  boxes.forEach((box, i) => {
    minX[width + i] = box.minX;
    minY[width + i] = box.minY;
    maxX[width + i] = box.maxX;
    maxY[width + i] = box.maxY;
  });
  for (let n = width - 1; n > 0; n--) {
    minX[n] = Math.min(minX[2 * n]!, minX[2 * n + 1]!);
    minY[n] = Math.min(minY[2 * n]!, minY[2 * n + 1]!);
    maxX[n] = Math.max(maxX[2 * n]!, maxX[2 * n + 1]!);
    maxY[n] = Math.max(maxY[2 * n]!, maxY[2 * n + 1]!);
  }
  const away = (n: number, { x, y }: Point) => {
    const dx = Math.max(0, minX[n]! - x, x - maxX[n]!);
    const dy = Math.max(0, minY[n]! - y, y - maxY[n]!);
    return dx * dx + dy * dy;
  };
  let point: Point = { x: 0, y: 0 };
  let measure: (index: number) => number = () => 0;
  let best = 0;
  let least = 0;
  const visit = (n: number): void => {
    if (n >= width) {
      const square = measure(n - width);
      if (square >= least) return;
      least = square;
      best = n - width;
      return;
    }
    const left = away(2 * n, point);
    const right = away(2 * n + 1, point);
    const near = left <= right ? 2 * n : 2 * n + 1;
    if (Math.min(left, right) < least) visit(near);
    if (Math.max(left, right) < least) visit(4 * n + 1 - near);
  };
  return {
    nearest: (p, squareTo, guess) => {
      point = p;
      measure = squareTo;
      best = guess;
      least = squareTo(guess);
      visit(1);
      return best;
    },
  };
}
