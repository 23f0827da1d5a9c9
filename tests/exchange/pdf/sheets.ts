import { cubic, line, type Path } from '../../../src/geometry/segment';
import type { SheetLine } from './tiles';

/** A bodice front of our own, mm; our way round. */
export const bodice: Path = [
  line({ x: 40, y: 132 }, { x: 42, y: 510 }),
  cubic({ x: 42, y: 510 }, { x: 130, y: 520 }, { x: 240, y: 515 }, { x: 320, y: 490 }),
  line({ x: 320, y: 490 }, { x: 345, y: 260 }),
  cubic({ x: 345, y: 260 }, { x: 290, y: 255 }, { x: 250, y: 200 }, { x: 262, y: 90 }),
  line({ x: 262, y: 90 }, { x: 130, y: 35 }),
  cubic({ x: 130, y: 35 }, { x: 125, y: 90 }, { x: 90, y: 130 }, { x: 40, y: 132 }),
];

/** Three sizes, one inside the other, told apart by dash and colour, with a grainline. */
export function gradedSheet(): SheetLine[] {
  const looks = ['1 0 0 RG [8 3] 0 d', '0 0 1 RG [2 2] 0 d', '0 0 0 RG'];
  const sizes = looks.map((look, i) => ({ look, path: grown(bodice, 8 * i) }));
  return [...sizes, { path: [line({ x: 150, y: 150 }, { x: 152, y: 430 })], look: '0.4 G 0.3 w' }];
}

function grown(path: Path, by: number): Path {
  const at = ({ x, y }: { x: number; y: number }) => ({ x: x + (by * (x - 40)) / 300, y: y + (by * (y - 35)) / 480 });
  return path.map((s) =>
    s.kind === 'line' ? line(at(s.start), at(s.end)) : cubic(at(s.start), at(s.control1), at(s.control2), at(s.end)),
  );
}
