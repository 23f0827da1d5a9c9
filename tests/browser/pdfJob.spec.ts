import { pathBounds } from '../../src/geometry/bounds';
import { jbig2, jpeg2000, scans } from '../exchange/pdf/codedScans';
import { scannedPdf, skirt, tile, tiledPdf } from '../support/tiledPdf';
import { Bench } from './support/bench';
import { saved } from './support/project';
import { drag, inWindow, viewOf } from './support/sheet';
import { expect, test } from './support/test';

const pdf = (name: string, bytes: Uint8Array) => ({
  name,
  mimeType: 'application/pdf',
  buffer: Buffer.from(bytes),
});

test('a PDF over six pages: pages looked over, one put right by hand, a size picked, its cut line drawn in', async ({
  page,
}) => {
  const bench = new Bench(page);
  await bench.openFile(pdf('skirt.pdf', tiledPdf()));
  await expect(bench.tray).toContainText('Look whether the pages lie right');
  await expect(bench.tray).toContainText('The test square on page 1 says 50 mm');
  await expect(bench.tray.getByRole('checkbox')).toHaveCount(6);

  await test.step('page 4 is dragged away and back, and snaps to where its lines go on', async () => {
    const view = await viewOf(bench.sheet);
    const middle = { x: tile.across + 110, y: tile.down + 150 };
    const away = { x: middle.x + 90, y: middle.y - 60 };
    await drag(page, inWindow(view, middle), inWindow(view, away));
    await expect(page.getByRole('status').filter({ hasText: /^Page 4/ })).toHaveCount(0);
    const moved = await viewOf(bench.sheet);
    await page.mouse.move(inWindow(moved, away).x, inWindow(moved, away).y);
    await page.mouse.down();
    const back = inWindow(moved, { x: middle.x + 4, y: middle.y + 3 });
    // Where the page meets its neighbours is found in the background meanwhile.
    await expect(async () => {
      await page.mouse.move(back.x + 1, back.y, { steps: 2 });
      await page.mouse.move(back.x, back.y, { steps: 2 });
      await expect(page.getByText(/^Page 4: \d+ lines? meets?$/)).toBeVisible({ timeout: 200 });
    }).toPass();
    await page.mouse.up();
  });

  await test.step('the solid lines are one size', async () => {
    await bench.press('These pages are right');
    await expect(bench.tray).toContainText('Tick the lines of your size');
    await bench.tray.getByRole('checkbox', { name: /dashes/ }).uncheck();
    await bench.press('Join these lines');
    await expect(bench.tray).toContainText('Walk round the piece');
  });

  await test.step('it is a cut line with 15 mm on every edge but the fold', async () => {
    await bench.showLengthsIn('mm');
    await bench.sewnAlong('the cut line, allowances included');
    await bench.type('Allowance all round', '15');
    const fold = bench.tray.getByRole('combobox', { name: 'On the fold' });
    await fold.selectOption({ label: 'Centre front' });
    await bench.field('Size, if any').fill('10');
    await bench.press('Make it a piece');
    await expect(bench.station('Mark')).toHaveAttribute('aria-current', 'step');
  });

  const [piece] = saved(await bench.garmentFile()).blocks;
  expect(piece).toMatchObject({ name: 'Skirt front', size: '10', fold: 'centre-front' });
  const { minX, minY, maxX, maxY } = pathBounds(piece!.edges.flatMap(({ path }) => path));
  expect(Math.abs(maxY - minY - (skirt.height - 2 * 15))).toBeLessThan(0.1);
  // At the hem the side seam leans inwards, so its stitching line ends a little more than 15 mm in.
  expect(maxX - minX).toBeLessThan(skirt.width - 14.9);
  expect(maxX - minX).toBeGreaterThan(skirt.width - 20);
});

test('a PDF is brought in with no network at all', async ({ page, context }) => {
  const bench = new Bench(page);
  await page.goto('./');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload();
  await expect(page.getByRole('button', { name: 'Sleeveless top' })).toBeVisible();
  await context.setOffline(true);
  const outside: string[] = [];
  page.on('response', (response) => {
    if (response.url().startsWith('http') && !response.fromServiceWorker()) outside.push(response.url());
  });
  await bench.handIn(page.getByRole('button', { name: /^Open a file .+/ }), pdf('skirt.pdf', tiledPdf()));
  await expect(bench.tray).toContainText('Look whether the pages lie right');
  expect(outside).toEqual([]);
});

test('R37 scans in JBIG2 and JPEG 2000 are decoded with no network at all', async ({ page, context }) => {
  const bench = new Bench(page);
  await page.goto('./');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload();
  const door = page.getByRole('button', { name: /^Open a file .+/ });
  await expect(door).toBeVisible();
  await context.setOffline(true);
  const decoders: string[] = [];
  context.on('response', (response) => {
    const name = /(jbig2|openjpeg)[^/]*\.js$/.exec(response.url())?.[1];
    if (name !== undefined && response.fromServiceWorker()) decoders.push(name);
  });
  const pages = scans(
    { filter: '/Filter /JBIG2Decode', stream: jbig2 },
    { filter: '/Filter /JPXDecode', stream: jpeg2000, more: '' },
  );
  await bench.handIn(door, pdf('scans.pdf', pages));
  await expect(bench.tray.getByRole('radio', { name: /it is a scan/ })).toBeChecked();
  await bench.press('Take page 2 instead of page 1');
  await expect(bench.tray.getByRole('button', { name: 'Take page 1 instead of page 2' })).toBeVisible();
  expect([...new Set(decoders)].sort()).toEqual(['jbig2', 'openjpeg']);
});

test('a PDF that is only a picture is laid down as a scan, with the size it states filled in', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openFile(pdf('scan.pdf', scannedPdf()));
  await expect(bench.tray.getByRole('radio', { name: /it is a scan/ })).toBeChecked();
  for (const label of ['Across', 'Down']) {
    const dots = Number(await bench.field(label).inputValue());
    // 1240 dots over 210 mm and 1754 over 297 mm: 149.98 and 150.00 to the inch; a PNG states whole dots to the metre.
    expect(Math.abs(dots - 150), label).toBeLessThan(0.05);
  }
});

test('of a PDF of scanned pages another page can be taken, and a further one is added to it', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openFile(pdf('scans.pdf', scannedPdf(3)));
  await bench.press('Take page 2 instead of page 1');
  await expect(bench.tray.getByRole('button', { name: 'Take page 3 instead of page 2' })).toBeVisible();
  await bench.press('Lay it at this size');
  await bench.press('Go on without a check');
  await bench.press('Add page 3 of this file');
  await expect(bench.tray.getByRole('button', { name: 'Take page 1 instead of page 3' })).toBeVisible();
  await bench.press('Lay it at this size');
  await bench.press('Go on without a check');
  await expect(bench.tray).toContainText('Click the same spot on both pictures');
  await bench.press('Go on without this further picture');
  await expect(bench.tray.getByRole('button', { name: 'Add page 3 of this file' })).toBeVisible();
});
