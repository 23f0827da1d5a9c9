import { writeFileSync } from 'node:fs';
import { crc32, deflateSync } from 'node:zlib';
import type { Page } from '@playwright/test';
import { jsPDF } from 'jspdf';
import { tiledPdf } from '../support/tiledPdf';
import { Bench, type HandedIn } from './support/bench';
import { expect, test } from './support/test';

const file = (name: string, content: string | Uint8Array): Exclude<HandedIn, string> => ({
  name,
  mimeType: 'application/octet-stream',
  buffer: typeof content === 'string' ? Buffer.from(content) : Buffer.from(content),
});

/** Bytes without meaning, the same at every run. */
function noise(length: number): Uint8Array {
  let state = 12345;
  return Uint8Array.from({ length }, () => {
    state = (Math.imul(state, 1103515245) + 12345) >>> 0;
    return state >>> 24;
  });
}

function encryptedPdf(): Uint8Array {
  const doc = new jsPDF({ encryption: { userPassword: 'closed', ownerPassword: 'closed', userPermissions: [] } });
  doc.line(10, 10, 100, 100);
  return new Uint8Array(doc.output('arraybuffer'));
}

/** A whole PNG of one colour, 108 megapixels in some hundred kB: it would take 432 MB unpacked. */
function hugePng(): Uint8Array {
  const [width, height] = [12_000, 9_000];
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 0], 8);
  const rows = deflateSync(Buffer.alloc((width + 1) * height));
  const part = (name: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
    const sizes = Buffer.alloc(8);
    sizes.writeUInt32BE(data.length, 0);
    sizes.writeUInt32BE(crc32(body), 4);
    return Buffer.concat([sizes.subarray(0, 4), body, sizes.subarray(4)]);
  };
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([signature, part('IHDR', head), part('IDAT', rows), part('IEND', Buffer.alloc(0))]);
}

/** Marks left by anything that runs. */
const trace = "globalThis.ran='yes';window.ran='yes';top.ran='yes';fetch('http://203.0.113.7/gone')";

function pdfWithScript(): Uint8Array {
  const doc = new jsPDF({ unit: 'mm' });
  doc.addJS(`${trace};app.alert('ran');app.launchURL('http://203.0.113.7/')`);
  doc.text('No lines here', 20, 20);
  return new Uint8Array(doc.output('arraybuffer'));
}

const entities = Array.from({ length: 9 }, (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`).join('');
const bomb = `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY e0 "lol">${entities}]><svg xmlns="http://www.w3.org/2000/svg"><text>&e9;</text></svg>`;

const hostileSvg = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100" onload="${trace}">
<script>${trace}</script><image href="http://203.0.113.7/x.png" width="9" height="9"/><style>@import url(http://203.0.113.7/x.css);</style>
<foreignObject width="9" height="9"><iframe xmlns="http://www.w3.org/1999/xhtml" src="http://203.0.113.7/"/></foreignObject>
<a xlink:href="javascript:${trace}"><path d="M0 0H50V50H0Z" stroke="black"/></a></svg>`;

/** What is handed in, and what is said of it. */
const refused: readonly (readonly [Exclude<HandedIn, string>, RegExp])[] = [
  [file('cut-short.pdf', tiledPdf().subarray(0, 3000)), /damaged|cut short|could not|cannot/i],
  [file('locked.pdf', encryptedPdf()), /password|locked|encrypted/i],
  [file('bomb.svg', bomb), /abbreviation of its own/],
  [file('noise.jpg', noise(5000)), /picture|hold what its name says/i],
  [file('noise.pdf', noise(5000)), /hold what its name says/i],
  [file('noise.dxf', noise(5000)), /hold what its name says/i],
  [file('noise.bin', noise(5000)), /nothing that can be read here/],
  [file('huge.png', hugePng()), /108 megapixels; up to 60 can be opened/],
  [file('nothing.svg', ''), /empty/],
  [file('nothing.pdf', ''), /empty/],
  [file('nothing.jpg', ''), /empty/],
  [
    file('not-a-number.dxf', '0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nNaN\n20\n1e999\n11\nx\n21\n\n0\nENDSEC\n0\nEOF\n'),
    /no lines/i,
  ],
  [file('newer.json', '{"format":"hingeline-project","version":99}'), /newer/i],
];

test('R24 R26 what cannot be read is refused with a sentence, and nothing is run, fetched, lost or held up', async ({
  page,
}) => {
  let dialogs = 0;
  page.on('dialog', (dialog) => {
    dialogs++;
    void dialog.dismiss();
  });
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  await bench.press('Place the fan');
  await bench.goTo('Bring in');
  const before = await bench.garmentFile();
  await startHeartbeat(page);
  const door = bench.tray.getByRole('button', { name: /^Open a file .+/ });

  for (const [bad, says] of refused) {
    await test.step(bad.name, async () => {
      await bench.handIn(door, bad);
      await expect(bench.notice).toContainText('Refused.');
      await expect(bench.notice).toContainText(says);
      await page.getByRole('button', { name: 'Put this notice away' }).click();
      await expect(door).toBeVisible();
    });
  }

  await test.step('a huge drawing is turned away before it is read', async () => {
    // Handed in by its path: a file made in the page would itself hold the page up.
    const path = test.info().outputPath('huge.svg');
    writeFileSync(path, `<svg xmlns="http://www.w3.org/2000/svg">${' '.repeat(20_000_100)}</svg>`);
    await bench.handIn(door, path);
    await expect(bench.notice).toContainText('larger than 20 MB');
    await page.getByRole('button', { name: 'Put this notice away' }).click();
  });

  await test.step('a drawing with scripts and links is read without them', async () => {
    await bench.handIn(door, file('hostile.svg', hostileSvg));
    await expect(bench.tray).toContainText('Walk round the piece');
    await bench.press('Put it away');
  });

  await test.step('so is a PDF with a script; it has no lines', async () => {
    await bench.handIn(door, file('script.pdf', pdfWithScript()));
    await expect(bench.notice).toContainText(/Refused\..*line/);
    await page.getByRole('button', { name: 'Put this notice away' }).click();
  });

  expect(await bench.garmentFile()).toBe(before);
  expect(dialogs).toBe(0);
  expect(await page.evaluate(() => 'ran' in window)).toBe(false);
  expect(await longestPause(page), 'the longest time in which the page did nothing, ms').toBeLessThan(2000);
});

test('a long reading is shown with its progress, and stopping it loses nothing', async ({ page }) => {
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  await bench.goTo('Bring in');
  const before = await bench.garmentFile();
  await startHeartbeat(page);
  await bench.handIn(bench.tray.getByRole('button', { name: /^Open a file .+/ }), file('long.pdf', longPdf()));
  const bar = page.getByRole('progressbar');
  await expect(bar).toBeVisible();
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(bar).toHaveCount(0);
  await expect(bench.notice).toContainText('Stopped. Nothing was changed.');
  expect(await bench.garmentFile()).toBe(before);
  expect(await longestPause(page)).toBeLessThan(2000);
});

/** Sixty pages of three thousand lines each: seconds of reading anywhere. */
function longPdf(): Uint8Array {
  const doc = new jsPDF({ unit: 'mm', format: 'a4', compress: true });
  for (let page = 0; page < 60; page++) {
    if (page > 0) doc.addPage();
    for (let i = 0; i < 3000; i++) doc.line(i % 200, (i * 7) % 290, (i * 13) % 200, (i * 3 + page) % 290);
  }
  return new Uint8Array(doc.output('arraybuffer'));
}

/** Notes the longest time between two beats of a short timer in the page. */
async function startHeartbeat(page: Page): Promise<void> {
  await page.evaluate(() => {
    const kept = globalThis as { longestPause?: number };
    kept.longestPause = 0;
    let last = performance.now();
    setInterval(() => {
      const now = performance.now();
      kept.longestPause = Math.max(kept.longestPause ?? 0, now - last);
      last = now;
    }, 20);
  });
}

function longestPause(page: Page): Promise<number> {
  return page.evaluate(() => (globalThis as { longestPause?: number }).longestPause ?? Number.POSITIVE_INFINITY);
}
