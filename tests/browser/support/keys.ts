import type { Locator, Page } from '@playwright/test';
import { expect } from './test';

/** Far more stops than any screen of the app has. */
const mostStops = 120;

/** Works the page with the keyboard alone: Tab to a thing, then whatever keys it takes. */
export class Keys {
  constructor(readonly page: Page) {}

  /** Goes to a thing as the Tab key reaches it; fails when Tab never does. */
  async to(target: Locator, way: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
    await expect(target).toBeAttached();
    for (let stop = 0; stop < mostStops; stop++) {
      if (await target.evaluate((element) => element === document.activeElement)) return;
      await this.page.keyboard.press(way);
    }
    throw new Error(`${way} never reaches ${target}`);
  }

  async press(target: Locator, key = 'Enter'): Promise<void> {
    await this.to(target);
    await this.page.keyboard.press(key);
  }

  /** Types over what stands in a field, as its text is selected on arrival. */
  async type(field: Locator, text: string): Promise<void> {
    await this.to(field);
    await this.page.keyboard.type(text);
    await this.page.keyboard.press('Enter');
  }

  async strike(...keys: readonly string[]): Promise<void> {
    for (const key of keys) await this.page.keyboard.press(key);
  }
}

/** Counts every press of a pointer in the page from its first script on; read it with `pointerPresses`. */
export async function countPointers(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const counted = globalThis as { pointerPresses?: number };
    counted.pointerPresses = 0;
    addEventListener(
      'pointerdown',
      () => {
        counted.pointerPresses = (counted.pointerPresses ?? 0) + 1;
      },
      true,
    );
  });
}

export function pointerPresses(page: Page): Promise<number | undefined> {
  return page.evaluate(() => (globalThis as { pointerPresses?: number }).pointerPresses);
}
