import { findStep, recipeOf } from '../../src/pattern/lookUp';
import { Bench, textOf } from './support/bench';
import { countPointers, Keys, pointerPresses } from './support/keys';
import { readPrinted } from './support/printed';
import { saved } from './support/project';
import { expect, test } from './support/test';

const inch = 25.4;

test('R1 R3 R11 the whole job with the keyboard alone, from the first screen to a saved PDF', async ({ page }) => {
  await countPointers(page);
  const bench = new Bench(page);
  const keys = new Keys(page);
  await page.goto('./');
  const hint = page.getByRole('status').filter({ hasText: /line|Opening/ });

  await test.step('the sample is opened and a fan placed', async () => {
    await keys.press(page.getByRole('button', { name: 'Sleeveless top' }));
    await expect(bench.sheet).toBeVisible();
    await keys.press(bench.tray.getByRole('button', { name: 'Place the fan' }));
    await expect(bench.field('Fullness line, down the side seam')).toBeVisible();
  });

  await test.step('lengths are typed, counted and nudged in the tray', async () => {
    await keys.type(bench.field('Fullness line, down the side seam'), '5 cm');
    const slashes = bench.tray.getByRole('spinbutton', { name: 'Slash lines' });
    await keys.to(slashes);
    await keys.strike('ArrowDown', 'ArrowDown');
    await expect(slashes).toHaveValue('2');
    await keys.strike('ArrowUp', 'ArrowUp');
    await expect(slashes).toHaveValue('4');
    await keys.type(bench.field('Opening, each'), '1-1/2');
    await expect(bench.field('Opening, each')).toHaveValue('1 1/2 in');
    await keys.strike('ArrowUp', 'ArrowUp', 'Enter');
    await expect(bench.field('Opening, each')).toHaveValue('1 5/8 in');
  });

  await test.step('on the table Tab walks the handles and the arrows move them', async () => {
    await keys.to(bench.sheet);
    await keys.strike('Tab');
    await expect(hint).toHaveText('Fullness line, 1 15/16 in down the side seam');
    await keys.strike('Tab', 'Tab');
    await expect(hint).toHaveText('Opening of slash line 1, 1 5/8 in at the hem');
    await keys.strike('ArrowLeft', 'ArrowDown');
    await expect(hint).toHaveText('Opening of slash line 1, 1 1/2 in at the hem');
    await expect(bench.slip.getByRole('row', { name: /^[1-4] 1 1\/2 in / })).toHaveCount(4);
    await keys.strike('Tab');
    await expect(hint).toHaveText(/^Slash line 2, .* from the centre line$/);
    await keys.strike('ArrowRight', 'ArrowLeft');
    // Every nudge is one undo step, here as anywhere.
    await keys.strike('Control+z', 'Control+z');
    await expect(bench.notice).toContainText('Undone: Move a slash line.');
  });

  await test.step('past the last handle the focus moves on', async () => {
    await keys.to(page.getByRole('button', { name: 'Measure from point to point' }));
  });

  await test.step('trued and the back matched', async () => {
    await keys.to(bench.station('True'), 'Shift+Tab');
    await keys.strike('Enter');
    await keys.press(bench.tray.getByRole('button', { name: 'True this piece' }));
    await keys.press(bench.tray.getByRole('button', { name: 'Match the back' }));
    await expect(bench.notice).toContainText('Side seams Front');
    const corners = bench.tray.getByRole('group', { name: 'Hem corners' });
    await keys.to(corners.getByRole('radio', { name: 'square' }));
    await keys.strike('ArrowRight');
    await expect(corners.getByRole('radio', { name: 'as they were' })).toBeChecked();
    await keys.strike('ArrowLeft');
    await expect(corners.getByRole('radio', { name: 'square' })).toBeChecked();
  });

  await test.step('allowances', async () => {
    await keys.press(bench.tray.getByRole('button', { name: 'Next: Finish' }));
    await keys.press(bench.tray.getByRole('button', { name: 'Add allowances' }));
    await keys.type(bench.field('Hem depth'), '1');
  });

  await test.step('named by the menu on the rack', async () => {
    await keys.press(bench.rack.getByRole('button', { name: 'More for Version 1' }));
    await expect(page.getByRole('menuitem', { name: 'Name and note…' })).toBeFocused();
    await keys.strike('ArrowDown', 'ArrowUp', 'Enter');
    const sheet = page.getByRole('dialog', { name: 'Name and note' });
    await keys.to(sheet.getByRole('textbox', { name: 'Name', exact: true }));
    await keys.strike('Control+a');
    await keys.type(sheet.getByRole('textbox', { name: 'Name', exact: true }), 'Swing top');
    await expect(sheet).toBeHidden();
    await expect(bench.peg('Swing top')).toBeVisible();
    await expect(bench.rack.getByRole('button', { name: 'More for Swing top' })).toBeFocused();
  });

  await test.step('the garment saved as a file, all by keys', async () => {
    const file = page.waitForEvent('download');
    await keys.press(page.getByRole('button', { name: /^Garment: / }));
    await keys.strike('ArrowDown', 'Enter');
    const garment = saved(await textOf(await file));
    const version = garment.versions.find(({ name }) => name === 'Swing top')!;
    for (const block of garment.blocks) {
      const recipe = recipeOf(garment, version.id, block.id);
      expect(recipe.map(({ kind }) => kind)).toEqual(['fan', 'true', 'finish']);
      const fan = findStep(recipe, 'fan')!;
      expect(fan.fullness).toEqual({ downSide: 50, tilt: 0 });
      expect(fan.slashes).toHaveLength(4);
      for (const [index, { across, opening }] of fan.slashes.entries()) {
        expect(across).toBeCloseTo((index + 1) / 5, 12);
        expect(opening).toMatchObject({ measure: 'chord', far: 0 });
        expect('hem' in opening && opening.hem).toBeCloseTo(1.5 * inch, 9);
      }
      expect(findStep(recipe, 'finish')!.hem).toBe(block.name === 'Front' ? inch : 0.75 * inch);
    }
  });

  await test.step('printed', async () => {
    await keys.press(bench.station('Print'));
    const save = bench.tray.getByRole('button', { name: 'Save PDF' });
    const paper = bench.tray.getByRole('combobox', { name: 'Paper' });
    await keys.to(paper);
    await page.keyboard.type('A4');
    await expect(paper).toHaveValue('A4');
    const file = page.waitForEvent('download');
    await keys.press(save);
    const pdf = await readPrinted(await file);
    expect(pdf.pages.length).toBeGreaterThan(1);
    expect(pdf.printScaling).toBe('None');
  });

  expect(await pointerPresses(page)).toBe(0);
});
