import { pathBounds } from '../../src/geometry/bounds';
import { Bench } from './support/bench';
import { saved } from './support/project';
import { expect, test } from './support/test';

/** Three pieces of our own, made for the tests of the reader. */
const pieces = 'tests/fixtures/dxf/exchange-pieces.dxf';

test('R23 a DXF of pieces: scale asked, the boundary picked by its layer, its notches and grainline kept', async ({
  page,
}) => {
  const bench = new Bench(page);
  await bench.openFile(pieces);
  await expect(bench.tray).toContainText('The file does not say in which unit it is drawn');
  await bench.press('1 unit is 1 mm');

  await test.step('only the boundaries stay on the table', async () => {
    await expect(bench.tray).toContainText('Tick the lines of your size');
    await bench.press('Tick none');
    await bench.tray.getByRole('checkbox', { name: /boundary/ }).check();
    await bench.press('Join these lines');
    await expect(bench.tray.getByRole('radio')).toHaveCount(3);
    await bench.tray.getByRole('radio', { name: /^FRONT-M/ }).click();
  });

  await test.step('its allowance of 10 mm is taken off', async () => {
    await expect(bench.field('Name of the piece')).toHaveValue('Front, size M');
    await bench.showLengthsIn('mm');
    await bench.sewnAlong('the cut line, allowances included');
    await bench.type('Allowance all round', '10');
    await bench.press('Make it a piece');
    await expect(bench.station('Mark')).toHaveAttribute('aria-current', 'step');
  });

  const [front] = saved(await bench.garmentFile()).blocks;
  // Two sides of the boundary are straight: they run along 0 across and along 0 down.
  const { minX, maxY } = pathBounds(front!.edges.flatMap(({ path }) => path));
  expect(minX).toBeCloseTo(10, 6);
  expect(maxY).toBeCloseTo(-10, 6);
  expect(front!.notches.length).toBeGreaterThanOrEqual(2);
  expect(front!.drillHoles).toHaveLength(1);
  expect(front!.grainline).toMatchObject({ start: { x: 125 }, end: { x: 125 } });
});
