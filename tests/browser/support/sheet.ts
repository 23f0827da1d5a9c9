import type { Locator, Page } from '@playwright/test';
import { pathBounds } from '../../../src/geometry/bounds';
import type { Point } from '../../../src/geometry/point';
import { type FanView, fanView } from '../../../src/gestures/fanView';
import { fan } from '../../../src/operations/fan';
import type { Piece } from '../../../src/pattern/piece';
import type { FanStep } from '../../../src/pattern/recipe';
import { granted } from '../../support/outcomes';

/** Where the sheet is looked at, as the canvas says itself, and where the canvas lies in the window (CSS pixels). */
export interface SheetView {
  readonly middle: Point;
  /** Point of the table in the middle of the canvas, mm. */
  readonly centre: Point;
  readonly pixelsPerMm: number;
}

/** Reads the view once the sheet has stopped gliding: unchanged for six animation frames. */
export async function viewOf(sheet: Locator): Promise<SheetView> {
  const box = (await sheet.boundingBox())!;
  const { centre, pixelsPerMm } = await sheet.evaluate(async (canvas) => {
    const { dataset } = canvas as HTMLElement;
    const read = () => `${dataset.centre} ${dataset.pixelsPerMm}`;
    let last = '';
    for (let still = 0; still < 6; ) {
      await new Promise((frame) => requestAnimationFrame(frame));
      still = read() === last ? still + 1 : 0;
      last = read();
    }
    return { centre: dataset.centre!, pixelsPerMm: dataset.pixelsPerMm! };
  });
  const [x, y] = centre.split(' ').map(Number) as [number, number];
  return {
    middle: { x: box.x + box.width / 2, y: box.y + box.height / 2 },
    centre: { x, y },
    pixelsPerMm: Number(pixelsPerMm),
  };
}

/** Where in the window a point of the table is seen. */
export function inWindow({ middle, centre, pixelsPerMm }: SheetView, p: Point): Point {
  return { x: middle.x + (p.x - centre.x) * pixelsPerMm, y: middle.y + (p.y - centre.y) * pixelsPerMm };
}

/** Where a point of the first block piece lies on the table: its block's top left corner is the table's zero. */
export function onTable(block: Piece, p: Point): Point {
  const { minX, minY } = pathBounds(block.edges.flatMap((edge) => edge.path));
  return { x: p.x - minX, y: p.y - minY };
}

/** Where the handles of a fan lie, mm in the piece's frame. */
export function handlesOf(block: Piece, step: FanStep): FanView {
  return fanView(granted(fan(block, step)), step);
}

/** Presses at one place in the window, moves on in small steps, lets go at the other. */
export async function drag(page: Page, from: Point, to: Point): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x, to.y, { steps: 10 });
  await page.mouse.up();
}
