import type { Bounds } from '../geometry/bounds';
import type { Point } from '../geometry/point';
import { strokeLine, words } from './draw';
import type { DrawnItem } from './drawing';
import type { Ink } from './ink';
import type { PagePlan, PlannedPage } from './pagePlan';
import { clearanceOf, type Room } from './roomFor';
import { measuredStyle } from './styles';
import { shortened, textWidth } from './textWidth';

/** Length of the check in the corner of every page, mm. */
const cornerCheckLength = 50;
/** Distance of the furniture from the lines along which the page is joined, mm; clear of the join marks. */
const inset = 8;
/** Free room that is as good as any, mm. */
const roomy = 4;

/** Two bars of 50 mm at a right angle, where the page has least ink: they prove both axes on every page. */
export function cornerCheckItems(core: Bounds, ink: Ink): DrawnItem[] {
  const length = cornerCheckLength;
  const { x, y, right, down } = mostFree(cornerSpots(core), (c) =>
    Math.min(
      clearanceOf({ x: c.x + (c.right * length) / 2, y: c.y }, { width: length, height: 8 }, ink, roomy),
      clearanceOf({ x: c.x, y: c.y + (c.down * length) / 2 }, { width: 8, height: length }, ink, roomy),
    ),
  );
  const farX = x + right * length;
  const farY = y + down * length;
  const tick = 1.5;
  const text = `${length} mm`;
  const size = 2.8;
  return [
    strokeLine({ x, y }, { x: farX, y }, measuredStyle),
    strokeLine({ x, y }, { x, y: farY }, measuredStyle),
    strokeLine({ x: farX, y: y - tick }, { x: farX, y: y + tick }, measuredStyle),
    strokeLine({ x: x - tick, y: farY }, { x: x + tick, y: farY }, measuredStyle),
    words(text, { x: x + (right * length) / 2, y: down < 0 ? y - 1 : y + 3 }, size, { align: 'middle', tone: 'soft' }),
    words(text, { x: right > 0 ? x + 3 : x - 1, y: y + (down * length) / 2 }, size, {
      align: 'middle',
      turn: -Math.PI / 2,
      tone: 'soft',
    }),
  ];
}

interface CornerSpot {
  readonly x: number;
  readonly y: number;
  /** Which way the bars go: 1 or -1. */
  readonly right: number;
  readonly down: number;
}

/** The four corners of the page first, then places across it. */
function cornerSpots(core: Bounds): CornerSpot[] {
  const left = core.minX + inset;
  const right = core.maxX - inset;
  const top = core.minY + inset;
  const bottom = core.maxY - inset;
  const spots: CornerSpot[] = [
    { x: left, y: bottom, right: 1, down: -1 },
    { x: right, y: bottom, right: -1, down: -1 },
    { x: left, y: top, right: 1, down: 1 },
    { x: right, y: top, right: -1, down: 1 },
  ];
  const parts = [0, 0.2, 0.4, 0.6, 0.8, 1];
  for (const v of parts) {
    for (const u of parts) {
      const x = left + u * (right - left - cornerCheckLength);
      const y = bottom - v * (bottom - top - cornerCheckLength);
      spots.push({ x, y, right: 1, down: -1 });
    }
  }
  return spots;
}

/** The page's place on the map, large, with garment, version and page count below, where there is least ink. */
export function pageNameItems(
  plan: PagePlan,
  page: PlannedPage & { readonly kind: 'tile' },
  core: Bounds,
  ink: Ink,
): DrawnItem[] {
  const size = 9;
  const small = 2.8;
  const number = plan.pages.indexOf(page) + 1;
  const line = shortened(`${plan.title.garment} · ${plan.title.version}`, small, 60);
  const count = `page ${number} of ${plan.pages.length}`;
  const room: Room = {
    width: Math.max(textWidth(page.name, size, true), textWidth(line, small), textWidth(count, small)) + 4,
    height: 17,
  };
  const left = core.minX + inset + room.width / 2;
  const right = core.maxX - inset - room.width / 2;
  const top = core.minY + inset + room.height / 2;
  const bottom = core.maxY - inset - room.height / 2;
  const spots: Point[] = [];
  for (const v of [0, 0.5, 1, 0.25, 0.75]) {
    for (const u of [0, 1, 0.5, 0.25, 0.75]) spots.push({ x: left + u * (right - left), y: top + v * (bottom - top) });
  }
  const at = mostFree(spots, (p) => clearanceOf(p, room, ink, roomy));
  const x = at.x - room.width / 2 + 2;
  const y = at.y - room.height / 2;
  return [
    words(page.name, { x, y: y + 8 }, size, { tone: 'soft', bold: true }),
    words(line, { x, y: y + 12.2 }, small, { tone: 'soft' }),
    words(count, { x, y: y + 15.8 }, small, { tone: 'soft' }),
  ];
}

/** The first place with enough free room, else the freest. */
function mostFree<T>(places: readonly T[], free: (place: T) => number): T {
  let best = 0;
  let most = Number.NEGATIVE_INFINITY;
  for (const [i, place] of places.entries()) {
    const room = free(place);
    if (room >= roomy) return place;
    if (room > most) {
      best = i;
      most = room;
    }
  }
  return places[best] as T;
}
