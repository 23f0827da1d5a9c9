import { act, screen, within } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { defaultTrue } from '../../src/operations/true';
import { shownNow } from '../../src/store/shown';
import { Slip } from '../../src/ui/slip/Slip';
import { formatLength } from '../../src/units/length';
import { type Bench, renderOnBench } from '../support/uiHarness';

function fan({ store }: Bench, piece: string): void {
  const step = store.commands.fanOf(piece);
  if (!step.ok) throw new Error(step.sentence);
  act(() => void store.commands.setFan(piece, step.value));
}

describe('the slip', () => {
  test('of the untouched block gives each measure once', () => {
    renderOnBench(<Slip />);
    const sweep = screen.getByRole('region', { name: 'Hem sweep' });
    expect(screen.getByRole('heading', { name: 'The block' })).toBeTruthy();
    expect(within(sweep).queryByText('before')).toBeNull();
    expect(within(sweep).queryByText(/×/)).toBeNull();
  });

  test('of a fanned piece gives the sweep before and after with the ratio, for piece and garment', () => {
    const bench = renderOnBench(<Slip />);
    fan(bench, 'front');
    const report = shownNow(bench.store.getState())!.report;
    const front = report.pieces.find((piece) => piece.block.id === 'front')!;
    const sweep = screen.getByRole('region', { name: 'Hem sweep' });
    expect(within(sweep).getByText(formatLength(front.sweepBefore!, 'in'))).toBeTruthy();
    expect(within(sweep).getByText(formatLength(front.sweepAfter!, 'in'))).toBeTruthy();
    expect(within(sweep).getByText(`× ${(front.sweepAfter! / front.sweepBefore!).toFixed(2)}`)).toBeTruthy();
    expect(
      within(sweep).getByText(`× ${(report.garmentSweepAfter! / report.garmentSweepBefore!).toFixed(2)}`),
    ).toBeTruthy();
  });

  test('lists every slash with its opening, and a grain turn that grows towards the side', () => {
    const bench = renderOnBench(<Slip />);
    fan(bench, 'front');
    const table = screen.getByRole('table', { name: /Slash lines/ });
    const rows = within(table).getAllByRole('row').slice(1);
    expect(rows).toHaveLength(4);
    const turns = rows.map((row) => Number.parseFloat(row.lastElementChild!.textContent!));
    expect(rows[0]!.children[1]!.textContent).toBe('1 1/2 in');
    expect(turns.every((turn, index) => index === 0 || turn > turns[index - 1]!)).toBe(true);
  });

  test('follows a preview and goes back when it is dropped', () => {
    const bench = renderOnBench(<Slip />);
    fan(bench, 'front');
    const shown = () => screen.getByRole('region', { name: 'Hem sweep' }).textContent;
    const before = shown();
    act(() => void bench.store.commands.setOpeningForAll('front', 60, 'preview'));
    expect(shown()).not.toBe(before);
    act(() => bench.store.actions.dropPreview());
    expect(shown()).toBe(before);
  });

  test('says of a seam that matches, and of one that does not, by sign and word', () => {
    const bench = renderOnBench(<Slip />);
    fan(bench, 'front');
    expect(screen.getAllByText('Match', { exact: false }).length).toBeGreaterThan(0);
    act(() => {
      const step = defaultTrue();
      bench.store.commands.setTrue('front', {
        ...step,
        hem: { ...step.hem, drop: { centre: 0, side: 12 } },
      });
    });
    const side = screen.getByText('Side seam', { selector: '.seam-head span' }).closest('.seam')!;
    expect(side.textContent).toContain('✕');
    expect(side.textContent).toContain('Do not match');
  });

  test('tells whether the trued hem is square at both ends', () => {
    const bench = renderOnBench(<Slip />);
    fan(bench, 'front');
    act(() => void bench.store.commands.setTrue('front', defaultTrue()));
    expect(screen.getByText('Centre corner').nextElementSibling?.textContent).toMatch(/90\.0° ✓ Square/);
    expect(screen.getByText('Side corner').nextElementSibling?.textContent).toMatch(/90\.0° ✓ Square/);
  });

  test('is in the maker’s unit', () => {
    const bench = renderOnBench(<Slip />);
    act(() => void bench.store.commands.setUnit('cm'));
    const report = shownNow(bench.store.getState())!.report;
    expect(screen.getByText(formatLength(report.garmentSweepAfter!, 'cm'))).toBeTruthy();
  });
});
