import type { Page } from '@playwright/test';
import type { Point } from '../../../src/geometry/point';

/** One finger's way over the glass, in window pixels. */
export interface Stroke {
  readonly from: Point;
  readonly to: Point;
}

/** Lays down one finger or more at once, moves them together in small steps, and lifts them. */
export async function stroke(page: Page, ...strokes: readonly Stroke[]): Promise<void> {
  const glass = await page.context().newCDPSession(page);
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', part: number) =>
    glass.send('Input.dispatchTouchEvent', {
      type,
      touchPoints:
        type === 'touchEnd'
          ? []
          : strokes.map(({ from, to }, id) => ({
              id,
              x: from.x + (to.x - from.x) * part,
              y: from.y + (to.y - from.y) * part,
            })),
    });
  const steps = 10;
  await send('touchStart', 0);
  for (let step = 1; step <= steps; step++) await send('touchMove', step / steps);
  await send('touchEnd', 1);
  await glass.detach();
}
