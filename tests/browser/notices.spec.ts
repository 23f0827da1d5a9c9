import { Bench } from './support/bench';
import { expect, test } from './support/test';

test('R24 a long refusal grows under the sheet and covers nothing on a small tablet', async ({ page }) => {
  await page.setViewportSize({ width: 1024, height: 768 });
  const bench = new Bench(page);
  await bench.openSample('Sleeveless top');
  const before = await bench.garmentFile();
  await bench.goTo('Bring in');
  const slip = page.getByRole('button', { name: /^The slip/ });
  if ((await slip.getAttribute('aria-expanded')) === 'false') await slip.click();
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({
      name: 'a piece.svg',
      mimeType: 'image/svg+xml',
      buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M0 0L9 9'),
    });
  await expect(bench.notice).toContainText('Refused.');
  const notice = (await bench.notice.locator('.notice').boundingBox())!;
  const sheet = (await bench.sheet.boundingBox())!;
  // More than one line, or there would be nothing to see.
  expect(notice.height).toBeGreaterThan(44);
  expect(notice.y).toBeGreaterThanOrEqual(sheet.y + sheet.height);
  expect(await bench.garmentFile()).toBe(before);
});
