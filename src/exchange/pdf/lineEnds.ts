import { noBounds, unionBounds } from '../../geometry/bounds';
import { flattenPath } from '../../geometry/flatten';
import { intersectLineWithPath } from '../../geometry/intersect';
import { distanceAt, pathEnd, pathStart, splitPathAt, startTangent } from '../../geometry/path';
import { dot, type Point, scale } from '../../geometry/point';
import { type Path, reversePath, type Segment } from '../../geometry/segment';
import { unitTangentAt } from '../../geometry/tangent';
import { cutAtBorder, goesOnStraight } from '../../geometry/tolerance';
import { furnitureOf, patternShapes } from './furniture';
import type { PdfPage, PdfShape } from './pdfReading';

export type Side = 'left' | 'right' | 'top' | 'bottom';
export const sides: readonly Side[] = ['left', 'right', 'top', 'bottom'];

/** A line that leaves a page over one of its borders. */
export interface LineEnd {
  readonly side: Side;
  /** mm on the page. */
  readonly at: Point;
  /** Direction in which it leaves, a unit vector. */
  readonly out: Point;
  /** Colour, dash, width and layer: a line keeps its look across the border. */
  readonly look: string;
  /** The line from its end on the border back into the page, as points; at most `tailLength` mm of it. */
  readonly tail: readonly Point[];
  /** Id of the shape it is an end of. */
  readonly shape: string;
}

/** A border that this many pages and this share of them have in common is the border of all. */
const plainly = 3;
const plainShare = 0.25;

/** mm. Shorter lines are ticks and letters; in an overlap they end on one page only. */
const shortest = 10;

/** mm. Pages overlap by no more than this. */
export const tailLength = 80;

/** mm. Between a line and the points that stand for its tail. */
const tailAccuracy = 0.0005;

/** Where lines may be cut off on each side of a page, mm on the page. */
type Borders = Readonly<Record<Side, readonly number[]>>;

const outward: Readonly<Record<Side, Point>> = {
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
  top: { x: 0, y: -1 },
  bottom: { x: 0, y: 1 },
};

/** A line that leaves at a flatter angle to the border is one that runs along it. */
const leastOut = 0.05;

export function lookOf(shape: PdfShape): string {
  return `${shape.colour}/${shape.strokeDash}/${shape.lineWidth.toFixed(2)}/${shape.layer}`;
}

/** The lines cut off at the borders of each page, by page number. */
export function lineEnds(
  pages: readonly PdfPage[],
  furniture: ReadonlySet<string> = furnitureOf(pages),
): ReadonlyMap<number, readonly LineEnd[]> {
  const borders = bordersOf(pages, furniture);
  return new Map(
    pages.map((page) => {
      const here = borders.get(page.number)!;
      const ends = patternShapes(page, furniture).flatMap((shape) => endsOf(shape, here));
      return [page.number, withoutRepeats(ends)];
    }),
  );
}

/**
 * What is seen of the pattern reaches up to the border where it is cut: the outermost place that many pages share, for a
 * stray mark may lie farther out; else the outermost place of each page.
 */
function bordersOf(pages: readonly PdfPage[], furniture: ReadonlySet<string>): ReadonlyMap<number, Borders> {
  const own = new Map(
    pages.map((page) => {
      let box = noBounds;
      for (const { seen } of patternShapes(page, furniture)) if (seen) box = unionBounds(box, seen);
      return [page.number, { left: box.minX, right: box.maxX, top: box.minY, bottom: box.maxY }];
    }),
  );
  const shared = (side: Side) => mostFrequent([...own.values()].map((box) => box[side]));
  const common = { left: shared('left'), right: shared('right'), top: shared('top'), bottom: shared('bottom') };
  return new Map(
    pages.map((page) => {
      const at = (side: Side) => {
        const mine = own.get(page.number)![side];
        const theirs = common[side];
        if (theirs === null) return [mine];
        const isPlain = theirs.count >= Math.max(plainly, plainShare * pages.length);
        return isPlain || Math.abs(theirs.value - mine) <= cutAtBorder ? [theirs.value] : [mine, theirs.value];
      };
      return [page.number, { left: at('left'), right: at('right'), top: at('top'), bottom: at('bottom') }];
    }),
  );
}

function mostFrequent(values: readonly number[]): { readonly value: number; readonly count: number } | null {
  let best: { value: number; count: number } | null = null;
  for (const value of values) {
    const count = values.filter((other) => Math.abs(other - value) <= cutAtBorder).length;
    if (Number.isFinite(value) && count > (best?.count ?? 1)) best = { value, count };
  }
  return best;
}

function endsOf(shape: PdfShape, borders: Borders): LineEnd[] {
  const { path, closed, seen } = shape;
  if (!seen || shape.filled || Math.hypot(seen.maxX - seen.minX, seen.maxY - seen.minY) < shortest) return [];
  const look = lookOf(shape);
  const ends: LineEnd[] = [];
  for (const side of sides) {
    const out = outward[side];
    const across = side === 'left' || side === 'right';
    for (const border of borders[side]) {
      const onBorder = (p: Point) => Math.abs((across ? p.x : p.y) - border) <= cutAtBorder;
      const add = (inward: Path) => {
        if (inward.length === 0) return;
        const direction = scale(startTangent(inward), -1);
        if (dot(direction, out) >= leastOut) {
          ends.push({ side, at: pathStart(inward), out: direction, look, tail: tailOf(inward), shape: shape.id });
        }
      };
      if (!closed) {
        if (onBorder(pathStart(path))) add(path);
        if (onBorder(pathEnd(path))) add(reversePath(path));
      }
      if (!reachesBeyond(shape, side, border)) continue;
      const through = across ? { x: border, y: 0 } : { x: 0, y: border };
      for (const { point, segment, t } of intersectLineWithPath(
        through,
        across ? { x: 0, y: 1 } : { x: 1, y: 0 },
        path,
      )) {
        const along = across ? point.y : point.x;
        const from = across ? seen.minY : seen.minX;
        const to = across ? seen.maxY : seen.maxX;
        if (along < from - cutAtBorder || along > to + cutAtBorder) continue;
        const [before, after] = splitPathAt(path, distanceAt(path, segment, t));
        add(dot(unitTangentAt(path[segment]!, t), out) >= 0 ? reversePath(before) : after);
      }
    }
  }
  return ends;
}

function tailOf(inward: Path): readonly Point[] {
  const near: Segment[] = [];
  let length = 0;
  for (const segment of inward) {
    near.push(segment);
    length += Math.hypot(segment.end.x - segment.start.x, segment.end.y - segment.start.y);
    if (length >= tailLength) break;
  }
  return flattenPath(near, tailAccuracy);
}

/** Whether a line is drawn on past a border and cut off there by a window. */
function reachesBeyond({ path }: PdfShape, side: Side, border: number): boolean {
  return path.some((s) => {
    const points = s.kind === 'line' ? [s.start, s.end] : [s.start, s.control1, s.control2, s.end];
    return points.some(({ x, y }) => {
      if (side === 'left') return x < border - cutAtBorder;
      if (side === 'right') return x > border + cutAtBorder;
      return side === 'top' ? y < border - cutAtBorder : y > border + cutAtBorder;
    });
  });
}

/** A line drawn twice ends twice at one place. */
function withoutRepeats(ends: readonly LineEnd[]): LineEnd[] {
  const kept: LineEnd[] = [];
  for (const end of ends) {
    const again = kept.some(
      (other) =>
        other.side === end.side &&
        other.look === end.look &&
        Math.hypot(other.at.x - end.at.x, other.at.y - end.at.y) <= cutAtBorder,
    );
    if (!again) kept.push(end);
  }
  return kept;
}

/** Whether a line leaving over one border may be the one that comes in over another. */
export function mayGoOn(a: LineEnd, b: LineEnd): boolean {
  return a.look === b.look && -dot(a.out, b.out) >= Math.cos(goesOnStraight);
}
