import type { Bounds } from '../../geometry/bounds';
import type { Path, Segment } from '../../geometry/segment';
import { squareLean } from '../../geometry/tolerance';
import { controlBox } from '../drawing/nearText';
import type { PdfPage } from './pdfReading';

/** mm. Smallest and largest square looked at. */
const smallest = 9;
const largest = 450;

/** Upright squares (sides within 15 % of each other, for a stretched one must be seen too) drawn on a page, mm. */
export function squaresOnPage(page: PdfPage): readonly Bounds[] {
  const found: Bounds[] = [];
  const across: Segment[] = [];
  const down: Segment[] = [];
  for (const { path, closed, seen } of page.shapes) {
    if (!seen) continue;
    if (closed && path.length <= 8 && isRectangle(path)) found.push(controlBox(path));
    else if (!closed && path.length <= 5) {
      for (const segment of path) {
        if (liesAcross(segment)) across.push(segment);
        else if (standsUp(segment)) down.push(segment);
      }
    }
  }
  return [...found, ...squaresOfLines(across, down)].filter(isSquarish);
}

function isSquarish(box: Bounds): boolean {
  const x = box.maxX - box.minX;
  const y = box.maxY - box.minY;
  return Math.min(x, y) >= smallest && Math.max(x, y) <= largest && Math.abs(x - y) <= 0.15 * Math.max(x, y);
}

/** A closed line of upright and level pieces that runs along all four sides of its box and nowhere else. */
function isRectangle(path: Path): boolean {
  const box = controlBox(path);
  const round = 2 * (box.maxX - box.minX + box.maxY - box.minY);
  let length = 0;
  for (const segment of path) {
    if (!liesAcross(segment) && !standsUp(segment)) return false;
    length += Math.hypot(segment.end.x - segment.start.x, segment.end.y - segment.start.y);
  }
  return Math.abs(length - round) <= squareLean * round;
}

function liesAcross({ kind, start, end }: Segment): boolean {
  return kind === 'line' && Math.abs(end.y - start.y) <= squareLean * Math.abs(end.x - start.x);
}

function standsUp({ kind, start, end }: Segment): boolean {
  return kind === 'line' && Math.abs(end.x - start.x) <= squareLean * Math.abs(end.y - start.y);
}

/** Squares drawn as four separate lines: an upper and a lower one with a left and a right one at their ends. */
function squaresOfLines(across: readonly Segment[], down: readonly Segment[]): Bounds[] {
  const long = (s: Segment) => Math.hypot(s.end.x - s.start.x, s.end.y - s.start.y);
  const usable = (s: Segment) => long(s) >= smallest && long(s) <= largest;
  const level = across.filter(usable);
  const upright = down.filter(usable);
  // A page full of ruled lines is no place for a test square.
  if (level.length > 200 || upright.length > 200) return [];
  const boxes: Bounds[] = [];
  level.forEach((top, i) => {
    const a = controlBox([top]);
    for (const bottom of level.slice(i + 1)) {
      const b = controlBox([bottom]);
      const near = 0.02 * long(top);
      if (Math.abs(a.minX - b.minX) > near || Math.abs(a.maxX - b.maxX) > near) continue;
      const minY = Math.min(a.minY, b.minY);
      const maxY = Math.max(a.maxY, b.maxY);
      const side = (x: number) =>
        upright
          .map((s) => controlBox([s]))
          .find(
            (c) => Math.abs(c.minX - x) <= near && Math.abs(c.minY - minY) <= near && Math.abs(c.maxY - maxY) <= near,
          );
      const left = side(a.minX);
      const right = side(a.maxX);
      if (left && right && left !== right) boxes.push({ minX: left.minX, minY, maxX: right.maxX, maxY });
    }
  });
  return boxes;
}
