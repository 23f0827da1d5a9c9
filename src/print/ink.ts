import { type Bounds, noBounds } from '../geometry/bounds';
import { flattenPath } from '../geometry/flatten';
import { type Point, turn } from '../geometry/point';
import type { DrawnItem, DrawnText } from './drawing';
import { textWidth } from './textWidth';

/** Where a drawing puts ink, as open chains of points, mm. */
export type Ink = readonly (readonly Point[])[];

/** Chords that stand for curves when asking which page a line touches, mm. */
const inkChord = 0.1;

export function inkOf(items: readonly DrawnItem[]): Ink {
  return items.flatMap((item): Ink => {
    if (item.kind === 'group') return inkOf(item.items);
    if (item.kind === 'text') return [textOutline(item)];
    const points = flattenPath(item.path, inkChord);
    return [item.closed ? [...points, points[0]!] : points];
  });
}

/** The box of a line of words as a closed chain of points. */
function textOutline(text: DrawnText): Point[] {
  const width = textWidth(text.text, text.size, text.bold);
  const from = text.align === 'start' ? 0 : text.align === 'middle' ? -width / 2 : -width;
  const corner = (x: number, y: number): Point => {
    const p = turn({ x, y }, text.turn);
    return { x: text.at.x + p.x, y: text.at.y + p.y };
  };
  const top = -0.74 * text.size;
  const bottom = 0.21 * text.size;
  const first = corner(from, top);
  return [first, corner(from, bottom), corner(from + width, bottom), corner(from + width, top), first];
}

export function inkBounds(ink: Ink): Bounds {
  let { minX, minY, maxX, maxY } = noBounds;
  for (const chain of ink) {
    for (const p of chain) {
      minX = Math.min(minX, p.x);
      minY = Math.min(minY, p.y);
      maxX = Math.max(maxX, p.x);
      maxY = Math.max(maxY, p.y);
    }
  }
  return { minX, minY, maxX, maxY };
}

export function shiftInk(ink: Ink, by: Point): Ink {
  return ink.map((chain) => chain.map((p) => ({ x: p.x + by.x, y: p.y + by.y })));
}
