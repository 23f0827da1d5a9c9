import { add, distance, type Point, subtract } from '../../geometry/point';
import { borderMatch } from '../../geometry/tolerance';
import { furnitureOf } from './furniture';
import { lineEnds, mayGoOn } from './lineEnds';
import type { PagePlace, PageSnap } from './pageArrangement';
import { bestShift, type Vote } from './pageJoin';
import type { PdfPage } from './pdfReading';
import { placedShapes, ShapeIndex } from './shapeMatch';

/** A place where a line of a page would meet one of another page. */
export interface Meeting extends Vote {
  /** Id of the page's own line. */
  readonly line: string;
}

/**
 * The small correction for a page dragged to `at` (mm, its upper left corner on the sheet), at most `reach` mm, that
 * lets most line ends meet those of the other placed pages, or the same shapes coincide. Null when nothing is near.
 */
export function snapPage(
  pages: readonly PdfPage[],
  places: readonly PagePlace[],
  page: number,
  at: Point,
  reach: number,
): PageSnap | null {
  return snapByMeetings(pageMeetings(pages, places, page), at, reach);
}

/**
 * Every place (mm, of the page's upper left corner) where a line end or a shape of the page would meet one of the other
 * placed pages. This is the long part of the work; it holds for as long as the other pages stay where they are.
 */
export function pageMeetings(
  pages: readonly PdfPage[],
  places: readonly PagePlace[],
  page: number,
): readonly Meeting[] {
  const corners = new Map(places.filter((place) => place.page !== page).map((place) => [place.page, place.at]));
  const origin = { x: 0, y: 0 };
  return [...endVotes(pages, corners, page, origin), ...shapeVotes(pages, corners, page, origin)];
}

/** What `snapPage` answers, from places that are known already. */
export function snapByMeetings(meetings: readonly Meeting[], at: Point, reach: number): PageSnap | null {
  const votes: Meeting[] = [];
  for (const { shift: place, weight, line } of meetings) {
    const shift = subtract(place, at);
    if (Math.hypot(shift.x, shift.y) <= reach) votes.push({ shift, weight, line });
  }
  const found = bestShift(votes, borderMatch);
  if (!found) return null;
  const { shift, worst } = found.best;
  // A line that goes on over several pages, or at both its ends, is one line.
  const lines = new Set(votes.filter((vote) => distance(vote.shift, shift) <= borderMatch).map(({ line }) => line));
  return { at: add(at, shift), matches: lines.size, worst };
}

function endVotes(pages: readonly PdfPage[], corners: ReadonlyMap<number, Point>, page: number, at: Point): Meeting[] {
  const ends = lineEnds(pages);
  const mine = ends.get(page) ?? [];
  return [...corners].flatMap(([number, corner]) =>
    (ends.get(number) ?? []).flatMap((theirs) =>
      mine
        .filter((end) => mayGoOn(end, theirs))
        .map((end) => ({ shift: subtract(add(theirs.at, corner), add(end.at, at)), weight: 1, line: end.shape })),
    ),
  );
}

/** Shapes drawn on both pages weigh more than an end: a whole shape that coincides is no accident. */
const shapeWeight = 3;

/** A shape with more equals than this is a letter or a tick. */
const mostAlike = 100;

function shapeVotes(
  pages: readonly PdfPage[],
  corners: ReadonlyMap<number, Point>,
  page: number,
  at: Point,
): Meeting[] {
  const own = pages.find(({ number }) => number === page);
  if (!own) return [];
  const furniture = furnitureOf(pages);
  const index = new ShapeIndex();
  for (const other of pages) {
    if (!corners.has(other.number)) continue;
    for (const placed of placedShapes(other)) if (!furniture.has(placed.shape.id)) index.add(placed);
  }
  return placedShapes(own).flatMap((placed) => {
    if (furniture.has(placed.shape.id) || distance({ x: 0, y: 0 }, sizeOf(placed.box)) < 1) return [];
    const equal = index.equalTo(placed);
    if (equal.length > mostAlike) return [];
    return equal.map((other) => ({
      shift: subtract(add(other.at, corners.get(other.page)!), add(placed.at, at)),
      weight: shapeWeight,
      line: placed.shape.id,
    }));
  });
}

function sizeOf(box: { minX: number; minY: number; maxX: number; maxY: number }): Point {
  return { x: box.maxX - box.minX, y: box.maxY - box.minY };
}
