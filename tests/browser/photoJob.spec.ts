import { readFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { readProject } from '../../src/exchange/project/projectFile';
import { nearestOnPath } from '../../src/geometry/nearest';
import { pathLength } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { granted } from '../support/outcomes';
import { accuracyLimits } from '../support/photo/accuracyLimits';
import { bestMove, layOn, moved } from '../support/photo/layOn';
import type { Photo } from '../support/photo/renderPhoto';
import { chain } from '../support/photo/shapes';
import { jpegOf, skirtPhoto, skirtSheet } from '../support/skirtPhoto';
import { Bench } from './support/bench';
import { stroke } from './support/fingers';
import { saved } from './support/project';
import { drag, inWindow, viewOf } from './support/sheet';
import { expect, test } from './support/test';

/*
 * A photograph computed from the sample's skirt front, with its truth: three megapixels, slanting, with noise, written as
 * JPEG. What the piece measures in truth is told by the sample; what has to be reached is published in docs/accuracy.md.
 */
const sample = granted(readProject(readFileSync('public/samples/straight-skirt.json', 'utf8')));
const truth = sample.blocks.find(({ id }) => id === 'front')!;
const outline = truth.edges.flatMap(({ path }) => path);

function fileOf(photo: Photo) {
  return { name: 'skirt-front.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(jpegOf(photo.picture)) };
}

/** Where a place of the true table lies on the table once the sheet's corner is its zero. */
function onSheetFrame({ x, y }: Point): Point {
  const { at, angle } = skirtSheet;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { x: c * (x - at.x) + s * (y - at.y), y: c * (y - at.y) - s * (x - at.x) };
}

async function open(page: Page, photo: Photo): Promise<Bench> {
  const bench = new Bench(page);
  await page.goto('./');
  await bench.handIn(page.getByRole('button', { name: /^Photograph or scan/ }), fileOf(photo));
  await expect(bench.tray).toContainText('See that the four corners sit on the sheet');
  await bench.showLengthsIn('mm');
  return bench;
}

test('R28 a photograph becomes a piece: sheet found, straightened, checked, outline proposed, true to its limits', async ({
  page,
}) => {
  const bench = await open(page, skirtPhoto(2048, 1536));

  await test.step('the sheet is known by its shape, and its rulers claim nothing yet', async () => {
    await expect(bench.tray.getByRole('radio', { name: 'an A4 sheet' })).toBeChecked();
    await bench.press('Straighten');
    await expect(bench.tray).toContainText('Measure a second length you know');
  });

  await test.step('a second length: off by 1 % it is refused, true it agrees', async () => {
    const view = await viewOf(bench.sheet);
    const centre = truth.edges.find(({ role }) => role === 'centre-front')!.path;
    const [top, bottom] = [centre[0]!.start, centre.at(-1)!.end];
    await drag(page, inWindow(view, onSheetFrame(top)), inWindow(view, onSheetFrame(bottom)));
    const known = distance(top, bottom);
    const field = bench.tray.getByRole('textbox', { name: /true length/ });
    await field.fill(`${known * 1.01} mm`);
    await bench.press('Check it');
    await expect(bench.tray.getByRole('alert')).toContainText('The paper may not lie flat, the sheet may be lifted');
    await field.fill(`${known} mm`);
    await bench.press('Check it');
    await expect(bench.tray).toContainText('A second length agrees');
    await bench.press('Go on');
  });

  await test.step('a press inside the piece proposes its outline, edges guessed', async () => {
    const view = await viewOf(bench.sheet);
    const inside = inWindow(view, onSheetFrame({ x: 100, y: 300 }));
    await page.mouse.click(inside.x, inside.y);
    await expect(bench.tray).toContainText('Walk round the piece');
    const roles = await bench.tray
      .getByRole('combobox', { name: /^Edge \d is$/ })
      .evaluateAll((picks) => picks.map((pick) => (pick as HTMLSelectElement).value));
    expect(roles.toSorted()).toEqual(['centre-front', 'hem', 'side', 'waist']);
    await bench.sewnAlong('the stitching line');
    await bench.press('Make it a piece');
    await expect(bench.station('Mark')).toHaveAttribute('aria-current', 'step');
  });

  await test.step('the saved piece is the true one, laid on without stretching', async () => {
    const piece = saved(await bench.garmentFile()).blocks[0]!;
    const start = bestMove(
      piece.edges.map(({ path }) => path[0]!.start),
      piece.edges.map(({ role }) => truth.edges.find((edge) => edge.role === role)!.path[0]!.start),
    );
    const path = piece.edges.flatMap((edge) => edge.path);
    const points = chain(path, 1);
    const laid = layOn(points, outline, start);
    const off = points.map((p) => nearestOnPath(outline, moved(laid, p)).distance).sort((a, b) => a - b);
    expect(off[Math.floor(0.95 * off.length)]).toBeLessThanOrEqual(accuracyLimits.p95);
    expect(off.at(-1)).toBeLessThanOrEqual(accuracyLimits.silent);
    expect(Math.abs(pathLength(path) / pathLength(outline) - 1)).toBeLessThanOrEqual(accuracyLimits.lengths);
    for (const role of ['centre-front', 'side'] as const) {
      const [own, real] = [piece, truth].map(({ edges }) => pathLength(edges.find((edge) => edge.role === role)!.path));
      expect(Math.abs(own! / real! - 1), role).toBeLessThanOrEqual(accuracyLimits.lengths);
    }
    // Few points: a trace of a millimetre a step would have some sixteen hundred.
    expect(path.length).toBeLessThan(60);
  });
});

test.describe('by finger', () => {
  test.use({ viewport: { width: 1024, height: 768 }, hasTouch: true });

  test('R28 R30 a corner is moved under the magnifier; a sheet said to be of another size is found out', async ({
    page,
  }) => {
    const photo = skirtPhoto(1600, 1200);
    const bench = await open(page, photo);
    const glass = page.locator('.table-glass');
    await expect(glass).toBeHidden();

    await test.step('the corner follows the finger, the magnifier beside it', async () => {
      const view = await viewOf(bench.sheet);
      const corner = inWindow(view, photo.truth.sheet![0]);
      await stroke(page, { from: corner, to: { x: corner.x - 40, y: corner.y + 30 } });
      await expect(glass).toBeVisible();
      const box = (await glass.boundingBox())!;
      const away = Math.hypot(box.x + box.width / 2 - (corner.x - 40), box.y + box.height / 2 - (corner.y + 30));
      expect(away).toBeGreaterThan(box.width / 2 + 22);
      await stroke(page, { from: { x: corner.x - 40, y: corner.y + 30 }, to: corner });
    });

    await test.step('the second length, laid by finger, shows that the size is wrong', async () => {
      await bench.tray.getByRole('radio', { name: 'another sheet or card' }).check();
      await bench.type('From 1 to 2', '216 mm');
      await bench.type('From 2 to 3', '280 mm');
      await bench.press('Straighten');
      // The picture shows another shape than that.
      await expect(bench.tray.getByRole('alert')).toContainText('The sheet looks 1 to 1.41');
      // The right shape, so that nothing on the picture speaks against it.
      await bench.type('From 1 to 2', '220 mm');
      await bench.type('From 2 to 3', '311 mm');
      await bench.press('Straighten');
      await expect(bench.tray).toContainText('Measure a second length you know');
      const view = await viewOf(bench.sheet);
      const seen = ({ x, y }: Point) => inWindow(view, { x: (x * 220) / 210, y: (y * 311) / 297 });
      const centre = truth.edges.find(({ role }) => role === 'centre-front')!.path;
      const [top, bottom] = [centre[0]!.start, centre.at(-1)!.end];
      await stroke(page, { from: seen(onSheetFrame(top)), to: seen(onSheetFrame(bottom)) });
      await bench.tray.getByRole('textbox', { name: /true length/ }).fill(`${distance(top, bottom)} mm`);
      await bench.press('Check it');
      await expect(bench.tray.getByRole('alert')).toContainText(/does not agree: .* 4\.[67]\d % off.*of another size/);
      await expect(bench.tray.getByRole('button', { name: 'Go on', exact: true })).toHaveCount(0);
    });

    await test.step('back at the corners everything is still there, and the right size agrees', async () => {
      await bench.press('Back to the corners');
      await bench.tray.getByRole('radio', { name: 'an A4 sheet' }).check();
      await bench.press('Straighten');
      await expect(bench.tray).toContainText('Straightened by the A4 sheet');
    });
  });
});

test.describe('on a dark table', () => {
  test.use({ colorScheme: 'dark' });

  test('everything on a photograph is moved by keys, told in words, and free of WCAG 2.2 AA violations', async ({
    page,
  }) => {
    const bench = await open(page, skirtPhoto(1600, 1200));
    const hint = page.getByRole('main').getByRole('status').first();

    await test.step('the corners', async () => {
      await bench.sheet.focus();
      await page.keyboard.press('Tab');
      await expect(hint).toContainText('Corner 1');
      await page.keyboard.press('Tab');
      await expect(hint).toContainText('Corner 2');
      await expect(page.locator('.table-glass')).toBeVisible();
      for (const key of ['ArrowLeft', 'Shift+ArrowUp', 'ArrowRight', 'Shift+ArrowDown']) await page.keyboard.press(key);
      expect(await violations(page)).toEqual([]);
      await bench.tray.getByRole('button', { name: 'Straighten' }).press('Enter');
    });

    await test.step('the second length', async () => {
      await bench.tray.getByRole('button', { name: 'Lay it in the middle, to be moved by keys' }).press('Enter');
      await bench.sheet.focus();
      await page.keyboard.press('Tab');
      await expect(hint).toContainText('End of the length');
      for (let i = 0; i < 5; i++) await page.keyboard.press('Shift+ArrowDown');
      await bench.tray.getByRole('textbox', { name: /true length/ }).fill('1 mm');
      await bench.tray.getByRole('button', { name: 'Check it' }).press('Enter');
      await expect(bench.tray.getByRole('alert')).toContainText('Give a length between 20 mm and 20 m');
      expect(await violations(page)).toEqual([]);
      await bench.tray.getByRole('button', { name: 'Go on without a check' }).press('Enter');
    });

    await test.step('the outline', async () => {
      await expect(bench.tray).toContainText('The size was not checked against a second length.');
      expect(await violations(page)).toEqual([]);
      await bench.tray.getByRole('button', { name: 'Look for the piece' }).press('Enter');
      await expect(bench.tray).toContainText('Walk round the piece');
      await expect(bench.tray).toContainText('The size was not checked against a second length.');
      expect(await violations(page)).toEqual([]);
    });
  });
});

async function violations(page: Page): Promise<string[]> {
  const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
  const { violations: found } = await new AxeBuilder({ page }).withTags(tags).setLegacyMode().analyze();
  return found.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ target }) => target).join(' ')}`);
}
