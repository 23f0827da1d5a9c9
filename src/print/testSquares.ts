import type { Point } from '../geometry/point';
import { box, closedShape, words } from './draw';
import type { DrawnItem } from './drawing';
import { measuredStyle } from './styles';
import { wrapText } from './textWidth';

/** Sides of the two test squares, mm: 100 mm and 4 in. */
export const metricSquare = 100;
export const inchSquare = 101.6;
export const squareGap = 6;

/** Both squares with what they say, the second below or beside the first; `at` is the upper left corner of the first. */
export function testSquareItems(at: Point, second: 'down' | 'beside'): DrawnItem[] {
  const next =
    second === 'down'
      ? { x: at.x, y: at.y + metricSquare + squareGap }
      : { x: at.x + metricSquare + squareGap, y: at.y };
  return [
    ...square(at, metricSquare, '100 mm', [
      'Measure this square first,',
      'across and down.',
      'Each side is 100 mm (10 cm).',
    ]),
    ...square(next, inchSquare, '4 in', ['Then this one.', 'Each side is 4 in (101.6 mm).']),
  ];
}

function square(at: Point, side: number, name: string, sentences: readonly string[]): DrawnItem[] {
  const middle = at.x + side / 2;
  const captions = sentences.flatMap((s) => wrapText(s, 4.6, side - 16));
  const first = at.y + side / 2 - 3;
  return [
    closedShape(box(at.x, at.y, side, side), measuredStyle),
    words(name, { x: middle, y: at.y + 5.2 }, 4, { align: 'middle', tone: 'soft' }),
    words(name, { x: at.x + 5.2, y: at.y + side / 2 }, 4, { align: 'middle', tone: 'soft', turn: -Math.PI / 2 }),
    words(name, { x: middle, y: first - 7 }, 11, { align: 'middle', bold: true }),
    ...captions.map((text, i) => words(text, { x: middle, y: first + 4 + i * 6.4 }, 4.6, { align: 'middle' })),
  ];
}
