import type { Point } from '../geometry/point';
import { type PagesDraft, pagesFrame } from '../store/pagesDraft';
import { letGo } from './drag';
import { type ScreenPoint, screenDistance, type TablePoint, tableAt } from './frames';
import type { Effects, Mark, PointerSample, Step, TableEvent } from './gesture';
import { reachMm, reachPixels } from './reach';
import type { TableScene } from './scene';

/** A page of a tiled pattern held by the pointer. */
export interface PageDrag {
  readonly kind: 'page';
  readonly pointer: number;
  readonly page: number;
  readonly pressedAt: ScreenPoint;
  readonly pressed: TablePoint;
  /** How the pages lay at the press. */
  readonly before: PagesDraft;
  readonly began: boolean;
}

/** The pages, when they lie on the table to be laid together. */
export function openPages({ place, draft, pages }: TableScene): PagesDraft | null {
  return place === 'bring-in' && draft === null ? pages : null;
}

export function startPage(pointer: PointerSample, scene: TableScene): PageDrag | null {
  const before = openPages(scene);
  if (before === null) return null;
  const pressed = tableAt(scene.camera, scene.view, pointer.at);
  const page = pageUnder(before, pressed);
  if (page === null) return null;
  return { kind: 'page', pointer: pointer.id, page, pressedAt: pointer.at, pressed, before, began: false };
}

/** What the hand would take hold of; null when no pages lie on the table. */
export function hoverPage(pointer: PointerSample, scene: TableScene): Pick<Effects, 'hint' | 'cursor'> | null {
  const pages = openPages(scene);
  if (pages === null) return null;
  const page = pageUnder(pages, tableAt(scene.camera, scene.view, pointer.at));
  return page === null
    ? { hint: null, cursor: 'default' }
    : { hint: `Drag page ${page} to where its lines go on; Alt lets it lie anywhere`, cursor: 'move' };
}

/** Moves a page with the pointer. Near a place where its lines meet those of its neighbours it goes there, unless Alt is held. */
export function dragPage(drag: PageDrag, event: TableEvent, scene: TableScene): Step<PageDrag> {
  const putBack = { ...letGo, pages: drag.before };
  if (event.type === 'key' && event.key === 'Escape') return putBack;
  if (!('pointer' in event) || event.pointer.id !== drag.pointer) return { state: drag };
  if (event.type === 'cancel') return putBack;
  if (event.type !== 'move' && event.type !== 'release') return { state: drag };
  const { pointer } = event;
  const began = drag.began || screenDistance(drag.pressedAt, pointer.at) >= reachPixels('drag', pointer.kind);
  if (!began) return { state: event.type === 'release' ? null : drag };
  const here = tableAt(scene.camera, scene.view, pointer.at);
  const start = placeOf(drag.before, drag.page);
  const loose = {
    x: start.x + here.across - drag.pressed.across,
    y: start.y + here.down - drag.pressed.down,
  };
  const reach = reachMm('snap', pointer.kind, scene.camera);
  const snapped = pointer.alt ? null : (scene.snapPage?.(drag.before, drag.page, loose, reach) ?? null);
  const pages = withPlace(drag.before, drag.page, snapped?.at ?? loose);
  if (event.type === 'release') {
    return { state: null, pages: { ...pages, frame: pagesFrame(pages) }, marks: [], hint: null };
  }
  const marks: Mark[] = snapped === null ? [] : [{ kind: 'label', at: here, text: meets(snapped.matches) }];
  const hint = snapped === null ? `Page ${drag.page} lies free` : `Page ${drag.page}: ${meets(snapped.matches)}`;
  return { state: { ...drag, began }, pages, marks, hint, cursor: 'grabbing' };
}

function meets(matches: number): string {
  return matches === 1 ? '1 line meets' : `${matches} lines meet`;
}

/** The uppermost page under a place; the last of those used lies uppermost. */
function pageUnder({ pages, places, leftOut }: PagesDraft, { across, down }: TablePoint): number | null {
  const found = places.findLast(({ page, at }) => {
    const size = pages.find(({ number }) => number === page);
    if (size === undefined || leftOut.includes(page)) return false;
    return across >= at.x && down >= at.y && across <= at.x + size.width && down <= at.y + size.height;
  });
  return found?.page ?? null;
}

function placeOf({ places }: PagesDraft, page: number): Point {
  return places.find((place) => place.page === page)?.at ?? { x: 0, y: 0 };
}

/** The pages with one of them elsewhere, and uppermost. */
export function withPlace(pages: PagesDraft, page: number, at: Point): PagesDraft {
  const others = pages.places.filter((place) => place.page !== page);
  return { ...pages, places: [...others, { page, at }] };
}
