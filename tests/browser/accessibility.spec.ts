import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { tiledPdf } from '../support/tiledPdf';
import { Bench } from './support/bench';
import { expect, test } from './support/test';

/** WCAG 2.2 AA and everything below it, as axe-core tags its rules. No rule is left out; what a canvas shows cannot be judged. */
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

for (const light of ['light', 'dark'] as const) {
  test(`no WCAG 2.2 AA violation on any screen, ${light} table`, async ({ page }) => {
    const bench = new Bench(page);
    await page.emulateMedia({ colorScheme: light });
    const found: string[] = [];
    const judge = async (screen: string) => found.push(...(await violations(page, screen)));

    await page.goto('./');
    await expect(page.getByRole('button', { name: 'Sleeveless top' })).toBeVisible();
    await expect(page.locator('html')).toHaveAttribute('data-theme', light);
    await judge('first screen');

    await bench.openSample('Sleeveless top');
    await judge('fan not yet placed');
    await bench.press('Place the fan');
    await bench.type('Opening, each', '1 1/');
    await judge('a length that cannot be read');
    await page.keyboard.press('Escape');
    for (const fold of ['Each slash by itself', 'At the centre line', 'Lean of the lines']) await bench.unfold(fold);
    await bench.slip.getByText('Every edge', { exact: true }).click();
    await judge('fan, all unfolded');

    await bench.goTo('True');
    await bench.press('True this piece');
    await bench.press('Match the back');
    for (const fold of ['Side seam at the hinge', 'Hem curve by hand']) await bench.unfold(fold);
    await judge('true');

    await bench.goTo('Finish');
    await bench.press('Add allowances');
    await bench.unfold('Edge by edge');
    await judge('finish');

    await bench.goTo('Print');
    await expect(bench.tray.getByText(/\d+ pages/)).toBeVisible();
    await judge('print, all pages');
    await page.getByRole('button', { name: 'Look closely at First page' }).click();
    await judge('print, one page');

    await bench.goTo('Mark');
    await judge('mark, locked');
    await bench.goTo('Bring in');
    await judge('bring in');
    await bench.handIn(bench.tray.getByRole('button', { name: /^Open a file .+/ }), {
      name: 'skirt.pdf',
      mimeType: 'application/pdf',
      buffer: Buffer.from(tiledPdf()),
    });
    await expect(bench.tray).toContainText('Look whether the pages lie right');
    for (const fold of ['Lay them in rows', 'One page by numbers']) await bench.unfold(fold);
    await judge('the pages of a pattern');
    await bench.press('These pages are right');
    await expect(bench.tray).toContainText('Tick the lines of your size');
    await judge('the lines of a pattern');
    await bench.press('Back to the pages');
    await bench.press('Put this file away');
    await bench.handIn(
      bench.tray.getByRole('button', { name: /^Open a file .+/ }),
      'tests/fixtures/svg/no-view-box.svg',
    );
    await expect(bench.tray).toContainText('Give one length you know');
    await judge('the question of scale');
    await bench.press('1 unit is 1 mm');
    await expect(bench.tray).toContainText('Walk round the piece');
    await judge('the walk round the edges');
    await bench.sewnAlong('the cut line, allowances included');
    await judge('a cut line with its allowances');
    await bench.sewnAlong('the stitching line');
    await bench.press('Make it a piece');
    for (const fold of ['Notches', 'Names of the edges', 'What is sewn to what']) await bench.unfold(fold);
    await judge('mark');

    await bench.rack.getByRole('button', { name: 'More for Version 1' }).click();
    await judge('a menu');
    await page.getByRole('menuitem', { name: 'Name and note…' }).click();
    await judge('a question laid over the table');

    expect(found).toEqual([]);
  });
}

async function violations(page: Page, screen: string): Promise<string[]> {
  // The app has no frames, so axe need not open a page of its own to gather their results.
  const { violations } = await new AxeBuilder({ page }).withTags(tags).setLegacyMode().analyze();
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${screen}: ${id}, ${help}: ${target.join(' ')}: ${failureSummary}`),
  );
}
