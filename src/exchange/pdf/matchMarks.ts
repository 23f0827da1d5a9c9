import type { Bounds } from '../../geometry/bounds';
import type { Point } from '../../geometry/point';
import { borderMatch } from '../../geometry/tolerance';
import { controlBox } from '../drawing/nearText';
import type { Side } from './lineEnds';
import { bestShift, type PageJoin, type Vote } from './pageJoin';
import type { PdfPage } from './pdfReading';

/** A small shape with a letter or number at the border of a page; its other half, or its twin, is on the neighbour. */
interface Mark {
  readonly page: number;
  readonly word: string;
  readonly side: Side;
  readonly box: Bounds;
}

const markWord = /^(?:[A-Z]{1,2}\d{0,2}|\d{1,3}[A-Z]?)$/;

/** mm. Sizes of marks, across the corners. */
const smallest = 3;
const largest = 40;

/** mm. How far from the page's edge a mark may stand, and its word from its middle. */
const borderZone = 35;
const wordReach = 8;

/** mm. Marks are told to be halves when they are cut off this near to where the page's marks end. */
const cutNear = 0.5;

const opposite: Readonly<Record<Side, Side>> = { left: 'right', right: 'left', top: 'bottom', bottom: 'top' };

/**
 * Joins by match marks: a word that stands in a mark on exactly two pages, at the right border of one and the left border
 * of the other, or at the foot and the head. Two halves meet with their cut sides; whole marks lie on each other. Sure
 * with two marks that agree.
 */
export function markJoins(pages: readonly PdfPage[]): PageJoin[] {
  const byWord = new Map<string, Mark[]>();
  const marks = pages.flatMap(marksOf);
  for (const mark of marks) byWord.set(mark.word, [...(byWord.get(mark.word) ?? []), mark]);
  const votes = new Map<string, Vote[]>();
  for (const [a, b] of [...byWord.values()].flatMap(pairsOf)) {
    const key = `${a.page},${b.page}`;
    votes.set(key, [...(votes.get(key) ?? []), { shift: shiftOf(a, b, marks), weight: 1 }]);
  }
  return [...votes].flatMap(([key, held]): PageJoin[] => {
    const [first, second] = key.split(',').map(Number) as [number, number];
    const found = bestShift(held, borderMatch);
    if (!found) return [];
    const { shift, count, worst } = found.best;
    const agreement = count / held.length;
    return [
      { first, second, shift, how: 'marks', matches: count, agreement, worst, sure: count >= 2 && agreement > 0.5 },
    ];
  });
}

/** The two marks of a word, the one at the right or the foot first; none when more pages share the word. */
function pairsOf(marks: readonly Mark[]): (readonly [Mark, Mark])[] {
  if (marks.length !== 2) return [];
  const [one, two] = marks as [Mark, Mark];
  if (one.page === two.page || one.side !== opposite[two.side]) return [];
  return [one.side === 'right' || one.side === 'bottom' ? [one, two] : [two, one]];
}

/** Where the page of `b` lies as seen from that of `a`. */
function shiftOf(a: Mark, b: Mark, all: readonly Mark[]): Point {
  const across = a.side === 'right';
  const halves = isCut(a, all) && isCut(b, all);
  const middle = ({ box }: Mark) => ({ x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 });
  const p = middle(a);
  const q = middle(b);
  if (!halves) return { x: p.x - q.x, y: p.y - q.y };
  return across ? { x: a.box.maxX - b.box.minX, y: p.y - q.y } : { x: p.x - q.x, y: a.box.maxY - b.box.minY };
}

/** Whether a mark is cut off at the border: about half as deep as it is long, and ending where the others on its side do. */
function isCut(mark: Mark, all: readonly Mark[]): boolean {
  const { box, side } = mark;
  const [wide, tall] = [box.maxX - box.minX, box.maxY - box.minY];
  const depth = side === 'left' || side === 'right' ? wide / tall : tall / wide;
  if (depth > 0.75) return false;
  const edge = (m: Mark) => ({ left: m.box.minX, right: m.box.maxX, top: m.box.minY, bottom: m.box.maxY })[side];
  return all.every((other) => other.side !== side || Math.abs(edge(other) - edge(mark)) <= cutNear);
}

function marksOf(page: PdfPage): Mark[] {
  const shapes = page.shapes.flatMap(({ path, seen }) => {
    const box = controlBox(path);
    const size = Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
    return seen && size >= smallest && size <= largest ? [box] : [];
  });
  const found = new Map<string, Mark>();
  for (const { words, x, y, size } of page.texts) {
    if (!markWord.test(words)) continue;
    // Words are placed by their lower left corner.
    const at = { x: x + 0.3 * size * words.length, y: y - size / 3 };
    const box = nearestBox(shapes, at);
    const side = box && sideOf(page, box);
    if (box && side) found.set(`${words}/${side}`, { page: page.number, word: words, side, box });
  }
  return [...found.values()];
}

function nearestBox(boxes: readonly Bounds[], at: Point): Bounds | null {
  let best: Bounds | null = null;
  let away = wordReach;
  for (const box of boxes) {
    const apart = Math.hypot((box.minX + box.maxX) / 2 - at.x, (box.minY + box.maxY) / 2 - at.y);
    if (apart < away) {
      best = box;
      away = apart;
    }
  }
  return best;
}

/** The border a mark stands at; null in the middle of the page. */
function sideOf({ width, height }: PdfPage, box: Bounds): Side | null {
  const distances: readonly (readonly [Side, number])[] = [
    ['left', box.minX],
    ['right', width - box.maxX],
    ['top', box.minY],
    ['bottom', height - box.maxY],
  ];
  const [side, away] = distances.reduce((best, next) => (next[1] < best[1] ? next : best));
  return away <= borderZone ? side : null;
}
