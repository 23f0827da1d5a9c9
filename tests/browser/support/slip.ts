import { findBlock, findEdge } from '../../../src/pattern/lookUp';
import { formatLength, type LengthUnit } from '../../../src/units/length';
import type { Bench } from './bench';
import type { Worked } from './project';
import { expect } from './test';

/** Compares every length on the slip with what the core computes, to the precision it is shown in. */
export async function expectSlip(
  bench: Bench,
  { garment, report }: Worked,
  pieceName: string,
  unit: LengthUnit,
): Promise<void> {
  const { slip } = bench;
  const made = report.pieces.find(({ block }) => block.name === pieceName)!;
  const sweeps = slip.getByRole('region', { name: 'Hem sweep' });
  for (const [label, before, after] of [
    [`Hem of ${pieceName}`, made.sweepBefore!, made.sweepAfter!],
    ['Hem of the whole garment', report.garmentSweepBefore!, report.garmentSweepAfter!],
  ] as const) {
    const figures = `${label} × ${(after / before).toFixed(2)} before ${formatLength(before, unit)} → after ${formatLength(after, unit)}`;
    await expect(sweeps).toContainText(figures, { useInnerText: true });
  }

  const slashes = slip.getByRole('table', { name: /^Slash lines/ }).getByRole('row');
  const cuts = made.fanned!.cuts.filter(({ id }) => id !== 'fullness');
  await expect(slashes).toHaveCount(cuts.length + 1);
  for (const [index, { chord }] of cuts.entries()) {
    await expect(
      slashes
        .nth(index + 1)
        .getByRole('cell')
        .first(),
    ).toHaveText(formatLength(chord, unit));
  }

  for (const { first, second } of report.seams) {
    const [one, other] = [first, second].map(
      (end) => `${findBlock(garment, end.piece)!.name} ${formatLength(end.length, unit)}`,
    );
    await expect(slip).toContainText(`${one}, ${other}`);
    await expect(slip).toContainText(findEdge(findBlock(garment, first.piece)!, first.edge)!.name);
  }

  const lengths = slip.getByRole('table', { name: /^Edge lengths/ });
  if (!(await lengths.isVisible())) await slip.getByText('Every edge', { exact: true }).click();
  for (const { name, before, after } of made.lengths) {
    const row = lengths.getByRole('row').filter({ has: bench.page.getByRole('rowheader', { name, exact: true }) });
    await expect(row.getByRole('cell')).toHaveText([before, after].map((mm) => formatLength(mm, unit, { bare: true })));
  }
}
