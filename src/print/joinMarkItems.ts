import { add, type Point, scale } from '../geometry/point';
import { box, circlePath, closedShape, polygonPath, words } from './draw';
import type { DrawnItem } from './drawing';
import type { Join, JoinMark } from './joins';
import { joinStyle } from './styles';

/** Half the size of a join mark, mm; just inside half the default overlap. */
const half = 4.6;
const numberSize = 2.9;

/** A join mark with its number on both sides of the line, so that either half names it. */
export function joinMarkItems(join: Join, mark: JoinMark): DrawnItem[] {
  const across: Point = join.kind === 'beside' ? { x: 1, y: 0 } : { x: 0, y: 1 };
  const place = (side: number): Point => {
    const p = add(mark.at, scale(across, side * 2.1));
    return { x: p.x, y: p.y + numberSize * 0.36 };
  };
  return [
    closedShape(shapePath(mark), joinStyle),
    words(String(mark.number), place(-1), numberSize, { align: 'middle', tone: 'soft' }),
    words(String(mark.number), place(1), numberSize, { align: 'middle', tone: 'soft' }),
  ];
}

function shapePath({ shape, at }: JoinMark) {
  const p = (x: number, y: number): Point => ({ x: at.x + x * half, y: at.y + y * half });
  switch (shape) {
    case 'circle':
      return circlePath(at, half);
    case 'square':
      return box(at.x - half * 0.86, at.y - half * 0.86, half * 1.72, half * 1.72);
    case 'diamond':
      return polygonPath([p(0, -1), p(-1, 0), p(0, 1), p(1, 0)]);
    case 'hexagon':
      return polygonPath([p(0.5, -0.87), p(-0.5, -0.87), p(-1, 0), p(-0.5, 0.87), p(0.5, 0.87), p(1, 0)]);
  }
}
