import { readFileSync } from 'node:fs';
import { runBatch } from '../../src/batch/run';
import type { Point } from '../../src/geometry/point';
import { findStep, recipeOf } from '../../src/pattern/lookUp';
import type { Piece } from '../../src/pattern/piece';
import type { FanStep } from '../../src/pattern/recipe';
import { Bench } from './support/bench';
import { measureSquare, readPrinted } from './support/printed';
import { blocksOf, type Worked, worked } from './support/project';
import { drag, handlesOf, inWindow, onTable, viewOf } from './support/sheet';
import { expectSlip } from './support/slip';
import { expect, test } from './support/test';

const inch = 25.4;
const fullnessLine = 'Fullness line, down the side seam';

test('R1 R3 R12 R16 R19 R21 R25 R26 R27 the whole job by mouse, from the sample to paper and back after a reload', async ({
  page,
}) => {
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  const blocksBefore = blocksOf(await bench.garmentFile());

  await test.step('a fullness line and four slash lines, counted with the stepper and by dragging the digits', async () => {
    await bench.press('Place the fan');
    const slashes = bench.tray.getByRole('spinbutton', { name: 'Slash lines' });
    await bench.press('Fewer: Slash lines');
    await expect(slashes).toHaveValue('3');
    await bench.press('More: Slash lines');
    await expect(slashes).toHaveValue('4');
    const digits = (await slashes.boundingBox())!;
    const middle = { x: digits.x + digits.width / 2, y: digits.y + digits.height / 2 };
    for (const [sideways, count] of [
      [48, '6'],
      [-48, '4'],
    ] as const) {
      await drag(page, middle, { x: middle.x + sideways, y: middle.y });
      await expect(slashes).toHaveValue(count);
    }
  });

  await test.step('the fullness line dragged to 9 cm below the armhole, then to 5 cm', async () => {
    await bench.showLengthsIn('cm');
    for (const [downSide, shown] of [
      [90, '9.0 cm'],
      [50, '5.0 cm'],
    ] as const) {
      const { from, to } = await aim(bench, (block, step) => ({
        from: handlesOf(block, step).sideHinge!,
        to: handlesOf(block, { ...step, fullness: { downSide, tilt: 0 } }).sideHinge!,
      }));
      await drag(page, from, to);
      await expect(bench.field(fullnessLine)).toHaveValue(shown);
    }
    await bench.type(fullnessLine, '5 cm');
    expect(frontFan(worked(await bench.garmentFile())).fullness).toEqual({ downSide: 50, tilt: 0 });
  });

  const slashTable = bench.slip.getByRole('table', { name: /^Slash lines/ });

  await test.step('one opening dragged by itself to 3 in, then all typed to 1 1/2 in', async () => {
    await bench.showLengthsIn('in');
    const { from, to } = await aim(bench, (block, step) => opened(block, step, 1, 3 * inch));
    await page.keyboard.down('Shift');
    await drag(page, from, to);
    await page.keyboard.up('Shift');
    await expect(slashTable.getByRole('row', { name: /^2 3 in / })).toBeVisible();
    await expect(slashTable.getByRole('row', { name: /^[134] 1 1\/2 in / })).toHaveCount(3);
    await bench.type('All (now uneven)', '1 1/2');
    await expect(slashTable.getByRole('row', { name: /^[1-4] 1 1\/2 in / })).toHaveCount(4);
  });

  await test.step('a drag that is let go with Escape leaves everything as it was', async () => {
    const before = (await bench.slip.textContent())!;
    const { from, to } = await aim(bench, (block, step) => opened(block, step, 3, 5 * inch));
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y, { steps: 5 });
    await expect(bench.slip).not.toHaveText(before);
    await page.keyboard.press('Escape');
    await page.mouse.up();
    await expect(bench.slip).toHaveText(before);
  });

  await test.step('trued, the back matched, allowances on both', async () => {
    await bench.goTo('True');
    await bench.press('True this piece');
    await bench.press('Match the back');
    await expect(bench.notice).toContainText('Side seams Front');
    await expect(bench.slip.getByText(/^(Centre|Side) corner/).locator('..')).toContainText([
      /90\.0° ✓ Square/,
      /90\.0° ✓ Square/,
    ]);
    await expect(bench.slip.getByText('Side seam✓ Match')).toBeVisible();
    await bench.goTo('Finish');
    await bench.press('Add allowances');
    await expect(bench.field('Hem depth')).toBeVisible();
  });

  await test.step('named', async () => {
    await bench.rack.getByRole('button', { name: 'More for Version 1' }).click();
    await page.getByRole('menuitem', { name: 'Name and note…' }).click();
    const sheet = page.getByRole('dialog', { name: 'Name and note' });
    await sheet.getByRole('textbox', { name: 'Name', exact: true }).fill('Swing top');
    await sheet.getByRole('textbox', { name: /^Note/ }).fill('Viscose; let it hang a day');
    await sheet.getByRole('button', { name: 'Keep' }).click();
  });

  const finished = await bench.garmentFile();

  await test.step('the slip shows what the core computes from the saved recipe', async () => {
    const made = worked(finished, 'Swing top');
    expect(made.report.pieces.map(({ block }) => block.name)).toEqual(['Front', 'Back']);
    for (const { block } of made.report.pieces) {
      const step = fanOf(made, block);
      expect(step.fullness?.downSide).toBe(50);
      expect(step.slashes.map(({ opening }) => opening)).toEqual(
        Array(4).fill({ measure: 'chord', hem: 1.5 * inch, far: 0 }),
      );
    }
    await expectSlip(bench, made, 'Front', 'in');
    // To a tenth of a millimetre, too; the slip writes fractions to 1/16 in.
    await bench.showLengthsIn('mm');
    await expectSlip(bench, made, 'Front', 'mm');
    await bench.showLengthsIn('in');
  });

  await test.step('the batch command measures the same on the saved file', async () => {
    const { report } = worked(finished, 'Swing top');
    let told = '';
    const code = await runBatch(['garment.json', '--version', 'Swing top', '--report', 'report.json'], {
      readText: () => Promise.resolve(finished),
      write: (_, content) => {
        told = String(content);
        return Promise.resolve();
      },
      loadFont: () => Promise.reject(new Error('No PDF is asked for.')),
      say: () => {},
      complain: (line) => expect(line).toBe(''),
      today: () => '2026-02-14',
    });
    expect(code).toBe(0);
    const { sweep } = JSON.parse(told) as { sweep: { after: { mm: number; text: string } } };
    expect(sweep.after.mm).toBe(report.garmentSweepAfter);
    await expect(bench.peg('Swing top')).toHaveAccessibleName(`Swing top, ${sweep.after.text} hem sweep. On the table`);
  });

  await test.step('printed on A4 at 1:1', async () => {
    await bench.goTo('Print');
    await bench.tray.getByRole('combobox', { name: 'Paper' }).selectOption('A4');
    const count = Number(/(\d+) pages/.exec((await bench.tray.getByText(/\d+ pages/).textContent()) ?? '')?.[1]);
    const pdf = await readPrinted(await bench.savePdf());
    expect(count).toBeGreaterThan(1);
    expect(pdf.pages).toHaveLength(count);
    expect(pdf.printScaling).toBe('None');
    expect(pdf.bytes.toString('latin1')).toContain('/PrintScaling /None');
    for (const { width, height } of pdf.pages) {
      expect(width).toBeCloseTo(210, 2);
      expect(height).toBeCloseTo(297, 2);
    }
    for (const side of [100, 4 * inch]) {
      const { pdfjs, poppler } = measureSquare(pdf, side);
      for (const measured of [...pdfjs, ...poppler]) expect(Math.abs(measured - side)).toBeLessThan(0.1);
    }
    expect(pdf.pages[0]!.texts.map(({ text }) => text).join(' ')).toContain('Swing top');
  });

  await test.step('everything is there after a reload, and the block is the same to the byte', async () => {
    await page.reload();
    await expect(bench.station('Print')).toHaveAttribute('aria-current', 'step');
    await expect(bench.peg('Swing top')).toHaveAttribute('aria-pressed', 'true');
    await bench.goTo('Fan');
    await expectSlip(bench, worked(finished, 'Swing top'), 'Front', 'in');
    const reloaded = await bench.garmentFile();
    expect(reloaded).toBe(finished);
    expect(blocksOf(reloaded)).toBe(blocksBefore);
    const shipped = readFileSync(new URL('../../public/samples/sleeveless-top.json', import.meta.url), 'utf8');
    expect(blocksOf(reloaded)).toBe(blocksOf(shipped));
  });
});

type Ends = { readonly from: Point; readonly to: Point };

/** Where in the window to press and to let go, for two points of the front as it is fanned now. */
async function aim(bench: Bench, ends: (front: Piece, step: FanStep) => Ends): Promise<Ends> {
  const made = worked(await bench.garmentFile());
  const view = await viewOf(bench.sheet);
  const front = made.garment.blocks[0]!;
  const { from, to } = ends(front, frontFan(made));
  return { from: inWindow(view, onTable(front, from)), to: inWindow(view, onTable(front, to)) };
}

/** From the hem corner of one slash line to where it lies when that line alone is opened by `hem` mm. */
function opened(block: Piece, step: FanStep, slash: number, hem: number): Ends {
  const wider: FanStep = {
    ...step,
    slashes: step.slashes.map((line, index) =>
      index === slash ? { ...line, opening: { measure: 'chord', hem, far: 0 } } : line,
    ),
  };
  return { from: handlesOf(block, step).slashes[slash]!.hemSide, to: handlesOf(block, wider).slashes[slash]!.hemSide };
}

function frontFan(made: Worked): FanStep {
  return fanOf(made, made.garment.blocks[0]!);
}

function fanOf({ garment, report }: Worked, block: Piece): FanStep {
  const step = findStep(recipeOf(garment, report.version, block.id), 'fan');
  if (step === undefined) throw new Error(`${block.name} is not fanned`);
  return step;
}
