import { pathBounds } from '../../src/geometry/bounds';
import { pathLength } from '../../src/geometry/path';
import type { Garment } from '../../src/pattern/garment';
import { findStep, recipeOf } from '../../src/pattern/lookUp';
import { Bench } from './support/bench';
import { measureSquare, readPrinted } from './support/printed';
import { blocksOf, saved, worked } from './support/project';
import { drag, inWindow, onTable, viewOf } from './support/sheet';
import { expect, test } from './support/test';

/*
 * Both files hold the same outline of our own: M20,20 V620 H280 L250,200 A200,200 0 0 0 220,20 Z. From its numbers, by
 * Pythagoras and the chord rule of the circle: centre 600, hem 260, straight side hypot(30, 420), arc of radius 200 over
 * a chord of hypot(30, 180), waist 200 units.
 */
const arcChord = Math.hypot(30, 180);
const outline = {
  centre: 600,
  hem: 260,
  side: Math.hypot(30, 420) + 2 * 200 * Math.asin(arcChord / 2 / 200),
  waist: 200,
};

test('R1 R21 an SVG in real units: named by walking round it, locked, fanned, trued, printed', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openFile('tests/fixtures/svg/skirt-mm.svg');
  await expect(bench.tray).toContainText('The file states 300 mm by 640 mm');

  await test.step('the corner in the side seam is clicked away', async () => {
    const row = bench.tray.getByRole('combobox', { name: /^Edge \d is$/ });
    await expect(row).toHaveCount(5);
    const corner = inWindow(await viewOf(bench.sheet), { x: 250, y: 200 });
    await page.mouse.click(corner.x, corner.y);
    await expect(row).toHaveCount(4);
  });

  await test.step('every edge is named', async () => {
    await bench.tray.getByRole('textbox', { name: 'Name of the piece' }).fill('Skirt front');
    for (const [index, role, name] of [
      [1, 'Centre front', 'Front fold'],
      [2, 'Hem', 'Hem'],
      [3, 'Side seam', 'Side with hip'],
      [4, 'Waist', 'Waist'],
    ] as const) {
      await bench.tray.getByRole('combobox', { name: `Edge ${index} is` }).selectOption(role);
      await bench.tray.getByRole('textbox', { name: `Name of edge ${index}` }).fill(name);
    }
    await bench.tray.getByRole('combobox', { name: 'On the fold' }).selectOption('Front fold');
    await bench.sewnAlong('the stitching line');
    await bench.press('Make it a piece');
    await expect(bench.station('Mark')).toHaveAttribute('aria-current', 'step');
  });

  await test.step('a grainline and a notch are drawn, then the block is locked', async () => {
    await bench.press('Grainline');
    const piece = saved(await bench.garmentFile()).blocks[0]!;
    const view = await viewOf(bench.sheet);
    const place = (x: number, y: number) => inWindow(view, onTable(piece, { x, y }));
    await drag(page, place(100, 150), place(100, 500));
    await bench.press('Notch');
    const notch = place(265, 410);
    await page.mouse.click(notch.x, notch.y);
    await bench.press('Lock the block and fan it');
    await expect(bench.station('Fan')).toHaveAttribute('aria-current', 'step');
  });

  const locked = await bench.garmentFile();

  await test.step('the piece has the size the file states, and every mark', () => {
    const { blocks } = saved(locked);
    const [piece] = blocks;
    expect(blocks).toHaveLength(1);
    expect(piece).toMatchObject({ name: 'Skirt front', locked: true });
    expect(piece!.edges.map(({ name, role }) => [name, role])).toEqual([
      ['Front fold', 'centre-front'],
      ['Hem', 'hem'],
      ['Side with hip', 'side'],
      ['Waist', 'waist'],
    ]);
    expect(piece!.fold).toBe(piece!.edges[0]!.id);
    expectLengths(saved(locked), 1);
    expect(piece!.notches).toHaveLength(1);
    expect(piece!.notches[0]!.edge).toBe(piece!.edges[2]!.id);
    const { start, end } = piece!.grainline!;
    expect(Math.abs(start.x - end.x)).toBeLessThan(1e-9);
    expect(Math.abs(end.y - start.y)).toBeCloseTo(350, -1);
  });

  await test.step('fanned from the waist and trued', async () => {
    await bench.press('Run the slashes right through');
    await bench.type('Opening, each', '4 cm');
    await bench.goTo('True');
    await bench.press('True this piece');
    await bench.goTo('Finish');
    await bench.press('Add allowances');
    await expect(bench.field('Hem depth')).toBeVisible();
    const file = await bench.garmentFile();
    const { garment, report } = worked(file);
    const recipe = recipeOf(garment, report.version, garment.blocks[0]!.id);
    expect(findStep(recipe, 'fan')).toMatchObject({ fullness: null });
    expect(recipe.map(({ kind }) => kind)).toEqual(['fan', 'true', 'finish']);
    expect(report.garmentSweepBefore).toBeCloseTo(2 * outline.hem, 6);
    expect(report.garmentSweepAfter! - report.garmentSweepBefore!).toBeGreaterThan(200);
    expect(blocksOf(file)).toBe(blocksOf(locked));
  });

  await test.step('printed', async () => {
    await bench.goTo('Print');
    await bench.tray.getByRole('combobox', { name: 'Paper' }).selectOption('A4');
    const pdf = await readPrinted(await bench.savePdf());
    expect(pdf.pages.length).toBeGreaterThan(1);
    expect(pdf.printScaling).toBe('None');
    const { pdfjs, poppler } = measureSquare(pdf, 100);
    for (const side of [...pdfjs, ...poppler]) expect(Math.abs(side - 100)).toBeLessThan(0.1);
  });
});

test('R23 an SVG of unknown scale asks for one known length, and is right to 0.1 mm by it', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openFile('tests/fixtures/svg/no-view-box.svg');
  await expect(bench.tray).toContainText('Give one length you know');
  await expect(bench.tray.getByRole('button', { name: 'Make it a piece' })).toHaveCount(0);

  await test.step('without a line there is no scale', async () => {
    await bench.tray.getByRole('textbox', { name: /^Its true length/ }).fill('45 cm');
    await bench.press('Set the scale');
    await expect(bench.tray.getByRole('alert')).toContainText('First draw along the line');
  });

  // 45 cm fits none of the usual readings of this file: the drawing's 600 units would be 600 mm, 158 mm or 212 mm.
  await test.step('the centre front is drawn along and said to be 45 cm', async () => {
    const view = await viewOf(bench.sheet);
    await drag(page, inWindow(view, { x: 20, y: 20 }), inWindow(view, { x: 20, y: 620 }));
    await expect(bench.tray).toContainText('The line is taken');
    await bench.press('Set the scale');
    await expect(bench.tray).toContainText('Walk round the piece');
    await bench.sewnAlong('the stitching line');
    await bench.press('Make it a piece');
    await expect(bench.station('Mark')).toHaveAttribute('aria-current', 'step');
  });

  expectLengths(saved(await bench.garmentFile()), 450 / 600);
  await bench.showLengthsIn('mm');
  await bench.slip.getByText('Every edge', { exact: true }).click();
  const lengths = bench.slip.getByRole('table', { name: /^Edge lengths/ });
  await expect(lengths.getByRole('row', { name: /^Hem / }).getByRole('cell').last()).toHaveText('195.0');
});

/*
 * The file is a front of our own drawn whole, centre line x = 260, traced in 800 steps; its right side is up to 0.8 mm
 * wider. By its numbers: centre 350, half hem 190 across, 420 deep from the neck point.
 */
test('R34 a traced piece that lies whole is folded in half, fanned, and printed opened out', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openFile('tests/fixtures/svg/front-whole.svg');
  await bench.sewnAlong('the stitching line');

  await test.step('the fold is drawn to a wrong place and taken back, then the piece is folded', async () => {
    await bench.tray.getByRole('radio', { name: 'all of it, both sides the same' }).check();
    await expect(bench.tray).toContainText('nowhere more than 0.');
    const view = await viewOf(bench.sheet);
    await drag(page, inWindow(view, { x: 260, y: 460 }), inWindow(view, { x: 330, y: 450 }));
    await expect(bench.tray.getByRole('alert')).toContainText('The two sides are not the same about this line');
    await page.keyboard.press('Control+z');
    await expect(bench.tray).toContainText('nowhere more than 0.');
    await bench.press('Fold it in half');
    await bench.tray.getByRole('textbox', { name: 'Size, if any' }).fill('12');
    await bench.press('Make it a piece');
    await bench.press('Lock the block and fan it');
  });

  await test.step('it is a piece on the fold like any other', async () => {
    await bench.press('Run the slashes right through');
    await bench.type('Opening, each', '2 cm');
    await bench.goTo('Finish');
    await bench.press('Add allowances');
    await expect(bench.field('Hem depth')).toBeVisible();
    const { garment, report } = worked(await bench.garmentFile());
    const [block] = garment.blocks;
    expect(block).toMatchObject({ size: '12', fold: 'centre-front', cutCount: 1, locked: true });
    expect(Math.abs(pathLength(block!.edges.find(({ id }) => id === 'centre-front')!.path) - 350)).toBeLessThan(0.3);
    const { minX, maxX } = pathBounds(block!.edges.flatMap(({ path }) => path));
    expect(Math.abs(maxX - minX - 238)).toBeLessThan(0.4);
    expect(report.garmentSweepAfter! - report.garmentSweepBefore!).toBeGreaterThan(40);
  });

  await test.step('printed on the fold, and opened out on more pages', async () => {
    await bench.goTo('Print');
    await bench.tray.getByRole('combobox', { name: 'Paper' }).selectOption('A4');
    const folded = await readPrinted(await bench.savePdf());
    await bench.tray.getByRole('checkbox', { name: /size 12, whole$/ }).check();
    const whole = await readPrinted(await bench.savePdf());
    expect(whole.pages.length).toBeGreaterThan(folded.pages.length);
    for (const side of measureSquare(whole, 100).poppler) expect(Math.abs(side - 100)).toBeLessThan(0.1);
  });
});

/** The one block of the garment against the outline's own figures, mm. */
function expectLengths({ blocks }: Garment, mmPerUnit: number): void {
  const { edges } = blocks[0]!;
  const along = (role: string) =>
    edges.filter((edge) => edge.role === role).reduce((sum, { path }) => sum + pathLength(path), 0);
  for (const [role, units] of [
    ['centre-front', outline.centre],
    ['hem', outline.hem],
    ['side', outline.side],
    ['waist', outline.waist],
  ] as const) {
    expect(Math.abs(along(role) - units * mmPerUnit), role).toBeLessThan(0.1);
  }
  const { minX, maxX, minY, maxY } = pathBounds(edges.flatMap(({ path }) => path));
  expect(Math.abs(maxX - minX - outline.hem * mmPerUnit)).toBeLessThan(0.1);
  expect(Math.abs(maxY - minY - outline.centre * mmPerUnit)).toBeLessThan(0.1);
}
