import type { TablePart } from '../exchange/photo/flatPicture';
import type { PictureView } from '../exchange/photo/pictureView';
import { toTable } from '../exchange/photo/viewPoint';
import type { Point } from '../geometry/point';
import { movePoint, type RigidMove } from '../geometry/rigidMove';

export interface FlatPlan {
  readonly part: TablePart;
  readonly dotsPerMm: number;
}

/** Dots of a flat picture at most: one that is shown must be held twice and drawn at once on a tablet. */
export const mostDots = { shown: 7e6, measured: 16e6 } as const;

/** The far part of a slanting picture is left out where it shows the table this much smaller than its middle does. */
const farthestScale = 1 / 4;

/** Steps across and down in which the picture is looked over. */
const steps = 24;

/** The part of the table that a picture shows well enough, and how finely. */
function shownPart(view: PictureView, move: RigidMove): FlatPlan {
  const middle = dotsPerMmAt(view, { x: view.width / 2, y: view.height / 2 });
  let part: TablePart | null = null;
  for (let row = 0; row <= steps; row++) {
    for (let column = 0; column <= steps; column++) {
      const p = { x: (view.width * column) / steps, y: (view.height * row) / steps };
      const scale = dotsPerMmAt(view, p);
      if (!(scale >= middle * farthestScale)) continue;
      part = including(part, movePoint(move, toTable(view, p)));
    }
  }
  return within(part ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 }, middle, Number.POSITIVE_INFINITY);
}

/** The part that several pictures show together, as finely as the finest of them. */
export function joinedPart(
  pictures: readonly { readonly view: PictureView; readonly move: RigidMove }[],
  most: number,
): FlatPlan {
  let all: TablePart | null = null;
  let finest = 0;
  for (const { view, move } of pictures) {
    const { part, dotsPerMm } = shownPart(view, move);
    all = including(including(all, { x: part.minX, y: part.minY }), { x: part.maxX, y: part.maxY });
    finest = Math.max(finest, dotsPerMm);
  }
  return within(all ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 }, finest, most);
}

function within(part: TablePart, dotsPerMm: number, most: number): FlatPlan {
  const area = (part.maxX - part.minX) * (part.maxY - part.minY);
  return { part, dotsPerMm: Math.min(dotsPerMm, Math.sqrt(most / area)) };
}

function including(part: TablePart | null, { x, y }: Point): TablePart {
  if (part === null) return { minX: x, minY: y, maxX: x, maxY: y };
  return {
    minX: Math.min(part.minX, x),
    minY: Math.min(part.minY, y),
    maxX: Math.max(part.maxX, x),
    maxY: Math.max(part.maxY, y),
  };
}

/** How many dots show one mm of the table about a place, in the direction that shows fewer; not a number beyond the horizon. */
function dotsPerMmAt(view: PictureView, p: Point): number {
  const here = toTable(view, p);
  const right = toTable(view, { x: p.x + 1, y: p.y });
  const below = toTable(view, { x: p.x, y: p.y + 1 });
  const across = Math.hypot(right.x - here.x, right.y - here.y);
  const down = Math.hypot(below.x - here.x, below.y - here.y);
  return 1 / Math.max(across, down);
}
