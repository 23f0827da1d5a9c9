import type { Page } from '@playwright/test';
import { findStep, recipeOf } from '../../src/pattern/lookUp';
import { Bench, type PlaceName } from './support/bench';
import { stroke } from './support/fingers';
import { worked } from './support/project';
import { handlesOf, inWindow, onTable, viewOf } from './support/sheet';
import { expect, test } from './support/test';

test.use({ viewport: { width: 1024, height: 768 }, hasTouch: true });

const inch = 25.4;

test('one finger pushes the sheet, two fingers zoom it about the point between them', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  const before = await viewOf(bench.sheet);
  const { x, y } = before.middle;

  await stroke(page, { from: { x, y }, to: { x: x + 90, y: y - 60 } });
  const pushed = await viewOf(bench.sheet);
  expect(pushed.pixelsPerMm).toBe(before.pixelsPerMm);
  expect(pushed.centre.x).toBeCloseTo(before.centre.x - 90 / before.pixelsPerMm, 1);
  expect(pushed.centre.y).toBeCloseTo(before.centre.y + 60 / before.pixelsPerMm, 1);

  await stroke(
    page,
    { from: { x: x - 50, y }, to: { x: x - 125, y: y + 20 } },
    { from: { x: x + 50, y }, to: { x: x + 125, y: y + 20 } },
  );
  const pinched = await viewOf(bench.sheet);
  expect(pinched.pixelsPerMm / pushed.pixelsPerMm).toBeCloseTo(2.5, 2);
  expect(pinched.centre.x).toBeCloseTo(pushed.centre.x, 1);
  expect(pinched.centre.y).toBeCloseTo(pushed.centre.y - 20 / pinched.pixelsPerMm, 1);
});

test('R3 an opening is dragged by finger, one undo step; a second finger takes the drag back', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  await bench.tray.getByRole('button', { name: 'Place the fan' }).tap();
  await expect(bench.field('Opening, each')).toHaveValue('1 1/2 in');

  const { garment, report } = worked(await bench.garmentFile());
  const front = garment.blocks[0]!;
  const fan = findStep(recipeOf(garment, report.version, front.id), 'fan')!;
  const wider = {
    ...fan,
    slashes: fan.slashes.map((line) => ({ ...line, opening: { measure: 'chord', hem: 2 * inch, far: 0 } as const })),
  };
  const view = await viewOf(bench.sheet);
  const [from, to] = [fan, wider].map((step) =>
    inWindow(view, onTable(front, handlesOf(front, step).slashes[3]!.hemSide)),
  );

  await stroke(page, { from: from!, to: to! });
  await expect(bench.field('Opening, each')).toHaveValue('2 in');
  const undo = page.getByRole('button', { name: /^Undo/ });
  await expect(undo).toHaveAccessibleName('Undo: Open every slash line 2 in');
  // One tap in some forty, sent through the browser's protocol right after a stroke on a busy machine, came to nothing;
  // whether the protocol or the page lost it is not known. A maker taps again; two taps that both count would fail below.
  await expect(async () => {
    if ((await undo.getAttribute('aria-label')) !== 'Undo: Fan the piece') await undo.tap();
    await expect(bench.field('Opening, each')).toHaveValue('1 1/2 in', { timeout: 3000 });
  }).toPass();
  await expect(undo).toHaveAccessibleName('Undo: Fan the piece');

  const shown = await viewOf(bench.sheet);
  const knob = inWindow(shown, onTable(front, handlesOf(front, fan).slashes[3]!.hemSide));
  await stroke(
    page,
    { from: knob, to: { x: knob.x + 60, y: knob.y } },
    { from: { x: knob.x - 150, y: knob.y }, to: { x: knob.x - 150, y: knob.y } },
  );
  await expect(bench.field('Opening, each')).toHaveValue('1 1/2 in');
  expect((await viewOf(bench.sheet)).pixelsPerMm).toBeGreaterThan(shown.pixelsPerMm);
  await expect(undo).toHaveAccessibleName('Undo: Fan the piece');
});

test('everything that can be tapped is at least 44 px, at every place', async ({ page }) => {
  const bench = new Bench(page);
  await page.goto('./');
  await expect(page.getByRole('button', { name: 'Sleeveless top' })).toBeVisible();
  const small: string[] = [...(await smallTargets(page, 'first screen'))];
  await bench.openSample('Sleeveless top');
  await bench.tray.getByRole('button', { name: 'Place the fan' }).tap();
  await bench.goTo('True');
  await bench.tray.getByRole('button', { name: 'True this piece' }).tap();
  await bench.goTo('Finish');
  await bench.tray.getByRole('button', { name: 'Add allowances' }).tap();
  for (const place of ['Bring in', 'Mark', 'Fan', 'True', 'Finish', 'Print'] satisfies PlaceName[]) {
    await bench.goTo(place);
    await expect(bench.tray.getByRole('button').first()).toBeVisible();
    const folded = bench.tray.locator('details:not([open]) > summary');
    while ((await folded.count()) > 0) await folded.first().tap();
    small.push(...(await smallTargets(page, place)));
  }
  await page.getByRole('button', { name: /^The slip/ }).tap();
  small.push(...(await smallTargets(page, 'slip')));
  await bench.rack.getByRole('button', { name: 'More for Version 1' }).tap();
  small.push(...(await smallTargets(page, 'menu')));
  expect([...new Set(small)]).toEqual([]);
});

/** What can be tapped and is less than 44 px wide or high; a labelled tick or choice is tapped on its whole label. */
function smallTargets(page: Page, where: string): Promise<string[]> {
  return page.evaluate((here) => {
    const least = 44;
    const targets = document.querySelectorAll<HTMLElement>(
      'button, summary, select, textarea, input:not([type=radio], [type=checkbox], [type=file]), label:has(input[type=radio], input[type=checkbox])',
    );
    return [...targets].flatMap((target) => {
      if (!target.checkVisibility({ visibilityProperty: true }) || target.closest('[inert]') !== null) return [];
      const { width, height } = target.getBoundingClientRect();
      // A text field is as wide as its text needs; what can miss it is its height.
      const side = target.tagName === 'INPUT' ? height : Math.min(width, height);
      // Half a pixel of grace for layouts that end between two pixels.
      if (side >= least - 0.5) return [];
      const name = target.getAttribute('aria-label') ?? target.textContent ?? '';
      return [`${here}: ${target.tagName.toLowerCase()} “${name.trim()}” ${width.toFixed(0)} x ${height.toFixed(0)}`];
    });
  }, where);
}
