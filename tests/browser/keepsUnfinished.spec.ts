import type { Page } from '@playwright/test';
import { jpegOf, skirtPhoto } from '../support/skirtPhoto';
import { tile, tiledPdf } from '../support/tiledPdf';
import { Bench } from './support/bench';
import { drag, inWindow, viewOf } from './support/sheet';
import { expect, test } from './support/test';

/** Waits until the garment is kept and what lies on its table has had its quiet time, then loads the page anew. */
async function reload(page: Page): Promise<void> {
  await expect(page.getByRole('button', { name: /^Garment: .*, kept on this device$/ })).toBeVisible();
  await page.reload();
}

test('R35 a photograph stays on the table over a reload, at every stage, and goes when it is put away', async ({
  page,
}) => {
  const bench = new Bench(page);
  const picture = Buffer.from(jpegOf(skirtPhoto(480, 360).picture));
  await page.goto('./');
  await bench.handIn(page.getByRole('button', { name: /^Photograph or scan/ }), {
    name: 'skirt-front.jpg',
    mimeType: 'image/jpeg',
    buffer: picture,
  });
  await expect(bench.tray).toContainText('See that the four corners sit on the sheet');

  await test.step('with its corners found', async () => {
    await reload(page);
    await expect(bench.notice).toContainText('The photograph skirt-front.jpg lies on the table as you left it.');
    await expect(bench.tray).toContainText('See that the four corners sit on the sheet');
    await expect(bench.tray.getByRole('radio', { name: 'an A4 sheet' })).toBeChecked();
    await bench.press('Straighten');
    await bench.press('Go on without a check');
  });

  await test.step('straightened, and its outline is found on it as before', async () => {
    await expect(bench.tray).toContainText('Say what the outline is');
    await reload(page);
    await expect(bench.notice).toContainText('lies on the table as you left it');
    await bench.press('Look for the piece');
    await expect(bench.tray).toContainText('Walk round the piece');
  });

  await test.step('with two edges named; the picture lies behind the outline still', async () => {
    await bench.tray.getByRole('textbox', { name: 'Name of edge 1' }).fill('Waistline');
    await bench.tray.getByRole('textbox', { name: 'Name of edge 2' }).fill('Outer side');
    await page.keyboard.press('Enter');
    await reload(page);
    await expect(bench.notice).toContainText('The outline from skirt-front.jpg lies on the table as you left it.');
    await expect(bench.tray.getByRole('textbox', { name: 'Name of edge 1' })).toHaveValue('Waistline');
    await expect(bench.tray.getByRole('textbox', { name: 'Name of edge 2' })).toHaveValue('Outer side');
    await page.getByRole('button', { name: 'Undo: what an edge is' }).click();
    await expect(bench.tray.getByRole('textbox', { name: 'Name of edge 2' })).not.toHaveValue('Outer side');
  });

  await test.step('put away, it is not there any more', async () => {
    await bench.press('Put it away');
    await bench.press('Put this picture away');
    await expect(bench.tray).toContainText('Bring in the first piece');
    await reload(page);
    await expect(bench.tray).toContainText('Bring in the first piece');
    await expect(bench.notice).toHaveCount(0);
  });
});

test('R35 pages laid by hand, and an outline half drawn, are where they were after a reload', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openFile({ name: 'skirt.pdf', mimeType: 'application/pdf', buffer: Buffer.from(tiledPdf()) });
  await expect(bench.tray.getByRole('checkbox')).toHaveCount(6);

  await test.step('page 4 dragged away, page 6 left out', async () => {
    const view = await viewOf(bench.sheet);
    const middle = { x: tile.across + 110, y: tile.down + 150 };
    await drag(page, inWindow(view, middle), inWindow(view, { x: middle.x + 90, y: middle.y - 60 }));
    await bench.tray.getByRole('checkbox', { name: 'Page 6' }).uncheck();
    await bench.unfold('One page by numbers');
    await bench.tray.getByRole('combobox', { name: 'Page' }).selectOption('4');
    const places = [await bench.field('To the right').inputValue(), await bench.field('Down').inputValue()];
    await reload(page);
    await expect(bench.notice).toContainText('The pages of skirt.pdf lie on the table as you left them.');
    await expect(bench.tray.getByRole('checkbox', { name: 'Page 6' })).not.toBeChecked();
    await bench.unfold('One page by numbers');
    await bench.tray.getByRole('combobox', { name: 'Page' }).selectOption('4');
    await expect(bench.field('To the right')).toHaveValue(places[0]!);
    await expect(bench.field('Down')).toHaveValue(places[1]!);
  });

  await test.step('three points of an outline', async () => {
    await bench.press('Put this file away');
    await bench.tray.getByRole('button', { name: /^Draw with the pen/ }).click();
    const box = (await bench.sheet.boundingBox())!;
    for (const [x, y] of [
      [0.3, 0.3],
      [0.6, 0.3],
      [0.6, 0.7],
    ] as const) {
      await page.mouse.click(box.x + x * box.width, box.y + y * box.height);
    }
    await expect(bench.tray).toContainText('3 points set.');
    await page.reload();
    await expect(bench.notice).toContainText('The outline you were drawing lies on the table as you left it.');
    await expect(bench.tray).toContainText('3 points set.');
    await bench.press('Back one point');
    await expect(bench.tray).toContainText('2 points set.');
  });

  await test.step('a browser that lets nothing be kept any more: the first screen says what is gone', async () => {
    await page.addInitScript(() => {
      Object.defineProperty(globalThis, 'indexedDB', {
        value: {
          open: () => {
            throw new DOMException('denied', 'SecurityError');
          },
        },
      });
    });
    await page.reload();
    const complaint = page.getByText(/does not let me save here/);
    await expect(complaint).toContainText('“the outline being drawn” was not a piece yet when the page was left');
  });
});
