import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { Workbench } from '../../src/ui/bench/Workbench';
import { renderOnBench } from '../support/uiHarness';

describe('the workbench', () => {
  test('has the path, the tray, the table, the slip and the rack, each with a name', () => {
    renderOnBench(<Workbench />);
    expect(screen.getByRole('navigation', { name: 'The path of the work' })).toBeTruthy();
    expect(screen.getByRole('region', { name: 'What to do here' })).toBeTruthy();
    expect(screen.getByRole('application', { name: /cutting table/ }).tabIndex).toBe(0);
    expect(screen.getByRole('complementary', { name: /The slip/ })).toBeTruthy();
    expect(screen.getByRole('region', { name: /The rack/ })).toBeTruthy();
  });

  test('the slip folds away and still tells the hem', async () => {
    const bench = renderOnBench(<Workbench />);
    const fold = screen.getByRole('button', { name: /^The slip/ });
    if (fold.getAttribute('aria-expanded') === 'false') await bench.user.click(fold);
    expect(screen.getByRole('region', { name: 'Hem sweep' })).toBeTruthy();
    await bench.user.click(fold);
    expect(screen.queryByRole('region', { name: 'Hem sweep' })).toBeNull();
    expect(fold.textContent).toMatch(/hem 42 5\/8 in/);
  });

  test('a refusal is said with sign and word until it is put away; the hint has its own line', async () => {
    const bench = renderOnBench(<Workbench />);
    act(() => {
      bench.store.actions.notify({ tone: 'refused', sentence: 'The strips would cross.' });
      bench.store.actions.setHint('Drag the slash line');
    });
    const [hint, notice] = screen.getAllByRole('status');
    expect(hint!.textContent).toBe('Drag the slash line');
    expect(notice!.textContent).toBe('✕Refused. The strips would cross.');
    await bench.user.click(screen.getByRole('button', { name: 'Put this notice away' }));
    expect(notice!.textContent).toBe('');
  });

  test('the way to print lays the pages over the table, and the table takes no keys meanwhile', async () => {
    const bench = renderOnBench(<Workbench />);
    await bench.user.click(screen.getByRole('button', { name: 'Print' }));
    expect(
      await screen.findByRole('region', { name: 'Pages as they will be printed' }, { timeout: 15_000 }),
    ).toBeTruthy();
    expect(await screen.findByRole('button', { name: 'Save PDF' })).toBeTruthy();
    expect(document.querySelector('.table')?.hasAttribute('inert')).toBe(true);
  });

  test('the garment is renamed and closed from its name', async () => {
    const bench = renderOnBench(<Workbench />);
    await bench.user.click(screen.getByRole('button', { name: /^Garment: Sleeveless top/ }));
    await bench.user.click(screen.getByRole('menuitem', { name: 'Rename…' }));
    const name = screen.getByRole('textbox', { name: 'Name of the garment' });
    await bench.user.clear(name);
    await bench.user.type(name, 'Sunday top{Enter}');
    expect(bench.store.getState().garment?.name).toBe('Sunday top');
    await bench.user.click(screen.getByRole('button', { name: /^Garment: Sunday top/ }));
    await bench.user.click(screen.getByRole('menuitem', { name: 'Open another garment' }));
    expect(bench.store.getState().garment).toBeNull();
  });
});
