import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { Bench } from './support/bench';
import { worked } from './support/project';
import { expect, test } from './support/test';

const fixture = (name: string) => readFileSync(new URL(`../fixtures/svg/${name}`, import.meta.url));
const sample = readFileSync(new URL('../../public/samples/sleeveless-top.json', import.meta.url), 'utf8');

test('R4 R25 undo of everything, redo of everything, and a reload in the middle', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  const opened = await bench.garmentFile();

  await test.step('some of every kind of change', async () => {
    await bench.press('Place the fan');
    await bench.showLengthsIn('cm');
    await bench.type('Fullness line, down the side seam', '6');
    await bench.press('More: Slash lines');
    await bench.type('Opening, each', '3');
    await bench.unfold('Each slash by itself');
    await bench.type('Slash 2, opening', '4,5');
    await bench.type('Slash 2, from the centre', '9');
    await bench.goTo('True');
    await bench.press('True this piece');
    await bench.type('Add at the side', '-0,5');
    await bench.press('Match the back');
    await bench.goTo('Finish');
    await bench.press('Add allowances');
    await bench.type('Seams', '1');
    await bench.rack.getByRole('button', { name: 'More for Version 1' }).click();
    await page.getByRole('menuitem', { name: 'Duplicate' }).click();
    await bench.rack.getByRole('button', { name: 'More for Version 1', exact: true }).click();
    await page.getByRole('menuitem', { name: 'Delete' }).click();
  });

  const last = await bench.garmentFile();
  const undo = page.getByRole('button', { name: /^Undo/ });
  const redo = page.getByRole('button', { name: /^Redo/ });

  await test.step('back to the garment as it was opened, and forth again', async () => {
    const steps = await pressAll(undo);
    expect(steps).toBe(14);
    expect(await bench.garmentFile()).toBe(opened);
    expect(await pressAll(redo)).toBe(steps);
    expect(await bench.garmentFile()).toBe(last);
  });

  await test.step('a reload straight after a change keeps it, and where the maker was', async () => {
    await bench.goTo('Fan');
    await bench.type('All (now uneven)', '2');
    await page.reload();
    await expect(bench.station('Fan')).toHaveAttribute('aria-current', 'step');
    await expect(bench.field('Opening, each')).toHaveValue('2.0 cm');
    const { garment } = worked(await bench.garmentFile());
    expect(garment.versions).toHaveLength(1);
    expect(garment.id).toBe(worked(last).garment.id);
  });

  await test.step('what is only half typed at a reload is not kept, what was kept is', async () => {
    const kept = await bench.garmentFile();
    await bench.field('Opening, each').fill('7');
    await expect(bench.slip.getByRole('row', { name: /^1 7\.0 cm/ })).toBeVisible();
    await page.reload();
    await expect(bench.field('Opening, each')).toHaveValue('2.0 cm');
    expect(await bench.garmentFile()).toBe(kept);
  });
});

test('R25 a second tab is warned, and what either tab did is kept', async ({ page, context }) => {
  const first = new Bench(page);
  await first.openSample('Sleeveless top');
  await first.press('Place the fan');
  await expect(page.getByRole('button', { name: 'Garment: Sleeveless top, kept on this device' })).toBeVisible();

  const second = new Bench(await context.newPage());
  await second.page.goto('./');
  await expect(second.notice).toContainText('open in another tab');
  await expect(second.page.getByRole('button', { name: /^Garment: .*Not kept/ })).toBeVisible();
  await second.type('Opening, each', '1');
  await expect(second.field('Opening, each')).toHaveValue('1 in');

  await first.press('More: Slash lines');
  await expect(first.tray.getByRole('spinbutton', { name: 'Slash lines' })).toHaveValue('5');
  await expect(page.getByRole('button', { name: 'Garment: Sleeveless top, kept on this device' })).toBeVisible();
  await page.close();

  await expect(second.notice).toContainText('your changes here are kept as a copy');
  const copy = second.page.getByRole('button', {
    name: /^Garment: Sleeveless top \(second tab\), kept on this device/,
  });
  await expect(copy).toBeVisible();
  await copy.click();
  await second.page.getByRole('menuitem', { name: 'Open another garment' }).click();
  await second.page.getByRole('button', { name: /^Sleeveless top \(second tab\)/ }).click();
  await second.goTo('Fan');
  await second.peg('Version 1').click();
  await expect(second.field('Opening, each')).toHaveValue('1 in');
  await expect(second.tray.getByRole('spinbutton', { name: 'Slash lines' })).toHaveValue('4');

  await second.page.getByRole('button', { name: /^Garment: / }).click();
  await second.page.getByRole('menuitem', { name: 'Open another garment' }).click();
  await second.page
    .getByRole('listitem')
    .getByRole('button', { name: /^Sleeveless top(?! \()/ })
    .click();
  await second.goTo('Fan');
  await second.peg('Version 1').click();
  await expect(second.field('Opening, each')).toHaveValue('1 1/2 in');
  await expect(second.tray.getByRole('spinbutton', { name: 'Slash lines' })).toHaveValue('5');
});

test('R26 after the first visit the app opens with no network, and does the job', async ({ page, context }) => {
  const bench = new Bench(page);
  await page.goto('./');
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await context.setOffline(true);
  // What the first visit did not keep cannot be had, so nothing below comes from the server.
  const elsewhere = await context.newPage();
  await expect(elsewhere.goto('./never-kept.txt')).rejects.toThrow(/ERR_/);
  await elsewhere.close();

  const unkept: string[] = [];
  page.on('response', (response) => {
    if (response.url().startsWith('http') && !response.fromServiceWorker()) unkept.push(response.url());
  });
  await bench.openSample('Sleeveless top');
  await bench.press('Place the fan');
  await expect(bench.slip.getByRole('table', { name: /^Slash lines/ })).toBeVisible();
  await page.reload();
  await expect(bench.field('Opening, each')).toHaveValue('1 1/2 in');
  await bench.goTo('Bring in');
  await bench.handIn(bench.tray.getByRole('button', { name: /^Open a file .+/ }), 'tests/fixtures/svg/skirt-mm.svg');
  await expect(bench.tray).toContainText('Walk round the piece');
  await bench.press('Put it away');
  await bench.goTo('Print');
  expect((await bench.savePdf()).suggestedFilename()).toBe('Sleeveless-top-Version-1.pdf');
  expect(unkept).toEqual([]);
});

test('R5 R14 what cannot be worked is refused with its reason, and the last good state stays', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  await bench.press('Place the fan');
  const before = await bench.garmentFile();
  const slip = (await bench.slip.textContent())!;
  const fullness = 'Fullness line, down the side seam';
  for (const [label, typed, says] of [
    ['Opening, each', '90', /cannot open that far/],
    ['Opening, each', 'a hand', /not a length I can read/],
    [fullness, '40', /must meet the side seam/],
    [fullness, '-1', /at least 0 in/],
  ] as const) {
    await bench.type(label, typed);
    await expect(bench.tray.getByRole('alert')).toContainText(says);
    await expect(bench.field(label)).toHaveValue(typed);
    await expect(bench.slip).toHaveText(slip);
    await page.keyboard.press('Escape');
    await expect(bench.tray.getByRole('alert')).toHaveCount(0);
  }
  expect(await bench.garmentFile()).toBe(before);
});

test('R3 R36 a dart is closed into the hem, half opened again by keys on the table, and all of it undone', async ({
  page,
}) => {
  const bench = new Bench(page);
  await bench.openSample('Straight skirt');
  await bench.showLengthsIn('cm');
  const before = await bench.garmentFile();
  await bench.press('Close dart 1, 9.95 cm at the hem');
  await expect(bench.slip).toContainText('Opening from darts9.95 cm');
  await bench.type('Dart 1, closed', '50');
  await expect(bench.field('Dart 1, closed')).toHaveValue('50 %');
  // Typing in its field took the wedge in hand, so the arrows on the table move it.
  await bench.sheet.focus();
  const opening = bench.field('Dart 1, at the hem');
  const half = await opening.inputValue();
  await page.keyboard.press('Shift+ArrowRight');
  await expect(opening).not.toHaveValue(half);
  for (const _ of [1, 2, 3]) await page.keyboard.press('Control+z');
  await expect(bench.tray.getByRole('button', { name: 'Close dart 1, 9.95 cm at the hem' })).toBeVisible();
  expect(await bench.garmentFile()).toBe(before);
});

test('R24 bad files are refused with a sentence, and what was open stays open', async ({ page }) => {
  const bench = new Bench(page);
  const cutShort = {
    name: 'top.hingeline.json',
    mimeType: 'application/json',
    buffer: Buffer.from(sample.slice(0, 900)),
  };
  const nonsense = {
    name: 'trace.svg',
    mimeType: 'image/svg+xml',
    buffer: Buffer.from('<svg <<< not a drawing at all'),
  };
  const photo = {
    name: 'photo.svg',
    mimeType: 'image/svg+xml',
    buffer: Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 255]),
  };
  const bad = [
    { file: cutShort, says: /damaged or cut short/ },
    { file: nonsense, says: /\w+ .*\./ },
    { file: photo, says: /\w+ .*\./ },
    {
      file: { name: 'cut.svg', mimeType: 'image/svg+xml', buffer: fixture('hostile/cut-short.svg') },
      says: /\w+ .*\./,
    },
    {
      file: { name: 'bomb.svg', mimeType: 'image/svg+xml', buffer: fixture('hostile/entity-bomb.svg') },
      says: /\w+ .*\./,
    },
  ];

  await test.step('on the first screen', async () => {
    await page.goto('./');
    for (const { file, says } of bad) {
      await bench.handIn(page.getByRole('button', { name: /^Open a file .+/ }), file);
      await expect(page.getByRole('alert')).toContainText(says);
      await expect(page.getByRole('heading', { name: /new silhouette/ })).toBeVisible();
    }
  });

  await test.step('beside a garment that is being worked on', async () => {
    await bench.openSample('Sleeveless top');
    await bench.press('Place the fan');
    const open = await bench.garmentFile();
    await bench.goTo('Bring in');
    for (const { file, says } of bad) {
      await dropFile(page, file);
      await expect(bench.notice).toContainText('Refused.');
      await expect(bench.notice).toContainText(says);
      await bench.notice.getByRole('button', { name: 'Put this notice away' }).click();
      await expect(bench.notice).toHaveCount(0);
    }
    expect(await bench.garmentFile()).toBe(open);
    await expect(bench.peg('Version 1')).toHaveAttribute('aria-pressed', 'true');
  });
});

/** Presses a button until it has nothing more to do; answers how often. */
async function pressAll(button: ReturnType<Page['getByRole']>): Promise<number> {
  let presses = 0;
  for (; await button.isEnabled(); presses++) await button.click();
  return presses;
}

/** Drops a file on the page as the file manager would. */
async function dropFile(page: Page, file: { name: string; mimeType: string; buffer: Buffer }): Promise<void> {
  const dataTransfer = await page.evaluateHandle(
    ({ name, mimeType, bytes }) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([new Uint8Array(bytes)], name, { type: mimeType }));
      return transfer;
    },
    { name: file.name, mimeType: file.mimeType, bytes: [...file.buffer] },
  );
  await page.dispatchEvent('body', 'drop', { dataTransfer });
}
