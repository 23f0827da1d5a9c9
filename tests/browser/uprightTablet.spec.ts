import type { Page } from '@playwright/test';
import { Bench, type PlaceName } from './support/bench';
import { expect, test } from './support/test';

test.use({ viewport: { width: 768, height: 1024 }, hasTouch: true });

test('a tablet held upright: no place scrolls sideways, and the main button of each can be reached', async ({
  page,
}) => {
  const bench = new Bench(page);
  await page.goto('./');
  await expect(page.getByRole('button', { name: 'Sleeveless top' })).toBeInViewport({ ratio: 1 });
  await expectNothingCutOff(page, 'first screen');
  await bench.openSample('Sleeveless top');
  const main: readonly (readonly [PlaceName, string])[] = [
    ['Fan', 'Place the fan'],
    ['True', 'True this piece'],
    ['Finish', 'Add allowances'],
    ['Print', 'Save PDF'],
    ['Mark', 'Next: Fan'],
    ['Bring in', 'Next: Mark'],
  ];
  for (const [place, name] of main) {
    await bench.goTo(place);
    const button = bench.tray.getByRole('button', { name });
    await expect(button).toBeInViewport({ ratio: 1 });
    await expectNothingCutOff(page, place);
    // What makes the next place possible is done on the way.
    if (place === 'Fan' || place === 'True' || place === 'Finish') {
      await button.tap();
      await expectNothingCutOff(page, `${place}, done`);
    }
  }
  await bench.goTo('Fan');
  await expect(bench.sheet).toBeInViewport({ ratio: 1 });
  const { width } = (await bench.sheet.boundingBox())!;
  expect(width).toBeGreaterThan(400);

  await page.getByRole('button', { name: /^The slip/ }).tap();
  await expect(bench.slip.getByRole('region', { name: 'Hem sweep' })).toBeInViewport();
  // It lies over the sheet, which keeps its size.
  expect((await bench.sheet.boundingBox())!.width).toBe(width);
  await expectNothingCutOff(page, 'slip');
  await bench.rack.getByRole('button', { name: 'More for Version 1' }).tap();
  await expect(page.getByRole('menuitem', { name: 'Duplicate' })).toBeInViewport({ ratio: 1 });
});

/** Nothing that can be tapped lies beyond a side of the window, and nothing but the rack is wider than its room. */
async function expectNothingCutOff(page: Page, where: string): Promise<void> {
  const cut = await page.evaluate(() => {
    const wider = [document.documentElement, ...document.querySelectorAll('header, section, aside, main, nav')].filter(
      (part) => part.scrollWidth > part.clientWidth + 1 && part.closest('[aria-label^="The rack"]') === null,
    );
    const targets = [...document.querySelectorAll('button, select, input, summary')].filter((target) => {
      if (!target.checkVisibility({ visibilityProperty: true }) || target.closest('[aria-label^="The rack"]') !== null)
        return false;
      const { left, right } = target.getBoundingClientRect();
      return left < -0.5 || right > innerWidth + 0.5;
    });
    return [...wider, ...targets].map((part) => `${part.tagName} ${part.getAttribute('aria-label') ?? part.className}`);
  });
  expect(cut, where).toEqual([]);
}
