import type { Point } from '../../geometry/point';
import { cubic, line, type Path } from '../../geometry/segment';
import { type Found, list, Misread, numbers } from './decode';

/** A path in a file: `["M", x, y]`, then `["L", x, y]` and `["C", x1, y1, x2, y2, x, y]`, each from where the last ended. */
export type PathCommand = readonly [letter: 'M' | 'L' | 'C', ...coordinates: number[]];

export function writePath(path: Path): PathCommand[] {
  const first = path[0];
  if (!first) return [];
  return [
    ['M', first.start.x, first.start.y],
    ...path.map(
      (segment): PathCommand =>
        segment.kind === 'line'
          ? ['L', segment.end.x, segment.end.y]
          : [
              'C',
              segment.control1.x,
              segment.control1.y,
              segment.control2.x,
              segment.control2.y,
              segment.end.x,
              segment.end.y,
            ],
    ),
  ];
}

export function readPath(found: Found): Path {
  const commands = list((command) => {
    if (!Array.isArray(command.value)) throw new Misread(command.place, 'a path command such as ["L", 120, 40]');
    const [letter, ...rest] = command.value as unknown[];
    return { letter, coordinates: { value: rest, place: command.place } };
  })(found);
  const [move, ...others] = commands;
  if (move?.letter !== 'M' || others.length === 0) {
    throw new Misread(found.place, 'a path that starts with "M" and goes on');
  }
  let at = pointOf(numbers(move.coordinates, 2), 0);
  return others.map(({ letter, coordinates }) => {
    const start = at;
    if (letter === 'L') {
      at = pointOf(numbers(coordinates, 2), 0);
      return line(start, at);
    }
    if (letter !== 'C') throw new Misread(coordinates.place, '"L" or "C"');
    const values = numbers(coordinates, 6);
    at = pointOf(values, 4);
    return cubic(start, pointOf(values, 0), pointOf(values, 2), at);
  });
}

export function writePoint(p: Point): [number, number] {
  return [p.x, p.y];
}

export function readPoint(found: Found): Point {
  return pointOf(numbers(found, 2), 0);
}

function pointOf(values: readonly number[], index: number): Point {
  return { x: values[index]!, y: values[index + 1]! };
}
