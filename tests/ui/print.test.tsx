import { act, screen } from '@testing-library/react';
import { describe, expect, test, vi } from 'vitest';
import { fail } from '../../src/geometry/outcome';
import * as opening from '../../src/print/openedOut';
import { PrintPlace } from '../../src/ui/places/PrintPlace';
import { PagePreview } from '../../src/ui/print/PagePreview';
import { usePrintDesk } from '../../src/ui/print/printDesk';
import { renderOnBench } from '../support/uiHarness';

function Part() {
  const desk = usePrintDesk();
  return (
    <>
      <PrintPlace desk={desk} />
      <PagePreview desk={desk} />
    </>
  );
}

function pageCount(): number {
  return Number(/^\d+/.exec(screen.getByText(/^pages?/, { exact: false, selector: '.print-count' }).textContent!)?.[0]);
}

function printing(paper: string | null = 'A4') {
  localStorage.clear();
  if (paper !== null) localStorage.setItem('hingeline-paper', paper);
  const bench = renderOnBench(<Part />);
  act(() => bench.store.actions.goTo('print'));
  return bench;
}

describe('the place Print', () => {
  test('shows every page that will be printed, the first page first', () => {
    printing();
    const pages = screen.getAllByRole('img');
    expect(pages).toHaveLength(pageCount());
    expect(pages[0]!.getAttribute('aria-label')).toBe('First page');
    expect(pages[0]!.getAttribute('viewBox')).toBe('0 0 210 297');
    expect(pages[0]!.querySelectorAll('path').length).toBeGreaterThan(0);
  });

  test('starts with the paper of the place the device speaks of', () => {
    expect(navigator.language).toBe('en-US');
    printing(null);
    expect(screen.getByLabelText<HTMLSelectElement>('Paper').value).toBe('Letter');
  });

  test('paper, way and pieces change the pages', async () => {
    const bench = printing();
    const all = pageCount();
    await bench.user.click(screen.getByLabelText('Back'));
    expect(pageCount()).toBeLessThan(all);
    await bench.user.selectOptions(screen.getByLabelText('Paper'), 'Letter');
    await bench.user.click(screen.getByLabelText('across'));
    expect(screen.getAllByRole('img')[0]!.getAttribute('viewBox')).toBe('0 0 279.4 215.9');
  });

  test('a page is looked at closely and the next one turned to', async () => {
    const bench = printing();
    await bench.user.click(screen.getByRole('button', { name: 'Look closely at First page' }));
    expect(screen.getAllByRole('img')).toHaveLength(1);
    await bench.user.click(screen.getByRole('button', { name: 'After' }));
    expect(screen.getByRole('img').getAttribute('aria-label')).toMatch(/^Page [A-Z]\d/);
    await bench.user.click(screen.getByRole('button', { name: 'All pages' }));
    expect(screen.getAllByRole('img').length).toBe(pageCount());
  });

  test('a margin that leaves no room is refused with a sentence', async () => {
    const bench = printing();
    const margin = screen.getByLabelText('Margin');
    await bench.user.clear(margin);
    await bench.user.type(margin, '9 cm{Enter}');
    expect(screen.getByRole('alert').textContent).toContain('no room');
    expect(screen.getByRole<HTMLButtonElement>('button', { name: 'Save PDF' }).disabled).toBe(true);
  });

  test('nothing chosen is said plainly', async () => {
    const bench = printing();
    await bench.user.click(screen.getByLabelText('Front'));
    await bench.user.click(screen.getByLabelText('Back'));
    expect(screen.getByRole('alert').textContent).toContain('no piece to print');
  });

  test('a back that was forgotten when the front was fanned is named before anything is cut', async () => {
    const bench = printing();
    expect(screen.queryByText(/is not fanned like/)).toBeNull();
    act(() => {
      bench.store.commands.setOpeningForAll('front', 40);
    });
    expect(
      screen.getByText('Back is not fanned like the piece it is sewn to. Match it at True.', { exact: false }),
    ).toBeTruthy();
    act(() => {
      bench.store.commands.matchPartner('front');
    });
    expect(screen.queryByText(/is not fanned like/)).toBeNull();
  });

  test('R34 a piece that cannot be opened out has no tick to set, and it is said why', () => {
    vi.spyOn(opening, 'openedOut').mockImplementation((half) =>
      half.piece.id === 'front'
        ? fail('fold-parts-cut-line', 'The front cannot be opened.')
        : { ok: true, value: half },
    );
    printing();
    expect(screen.getByLabelText<HTMLInputElement>('Front, whole')).toMatchObject({ disabled: true, checked: false });
    expect(screen.getByLabelText<HTMLInputElement>('Back, whole').disabled).toBe(false);
    expect(screen.getByText('The front cannot be opened.')).toBeDefined();
    vi.restoreAllMocks();
  });
});
