import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { pathBounds } from '../../src/geometry/bounds';
import { openFile } from '../../src/ui/bringin/fileDoor';
import { BringInPlace } from '../../src/ui/places/BringInPlace';
import { onePagePdf, skirt, tile, tiledPdf } from '../support/tiledPdf';
import { type Bench, renderOnBench } from '../support/uiHarness';

async function laid(bytes: Uint8Array, name = 'skirt.pdf'): Promise<Bench> {
  const bench = renderOnBench(<BringInPlace />, null);
  await act(async () => {
    const opened = await openFile(new File([bytes as BlobPart], name), bench.store, bench.workshop);
    if (!opened.ok) throw new Error(opened.sentence);
    bench.store.commands.setUnit('mm');
  });
  return bench;
}

const press = (bench: Bench, name: string) => bench.user.click(screen.getByRole('button', { name }));

async function typeOver(bench: Bench, label: string, text: string): Promise<void> {
  const field = screen.getByLabelText(label);
  await bench.user.clear(field);
  await bench.user.type(field, text);
}

/** How far each page lies from where it was printed from, up to where the whole lies; mm. */
function offPlaces({ bringIn }: Bench): number {
  const { places } = bringIn.getState().pages!;
  const first = places.find(({ page }) => page === 1)!.at;
  return Math.max(
    ...places.map(({ page, at }) => {
      const index = page - 1;
      const x = (index % 2) * tile.across;
      const y = Math.floor(index / 2) * tile.down;
      return Math.hypot(at.x - first.x - x, at.y - first.y - y);
    }),
  );
}

describe('a pattern printed over several pages', () => {
  test('is laid together by its own lines, told how, and one size of it becomes the outline at true size; the test square is no piece', async () => {
    const bench = await laid(tiledPdf());
    expect(screen.getByText(/Look whether the pages lie right/)).toBeTruthy();
    expect(screen.getByText(/parts of one drawing/)).toBeTruthy();
    expect(screen.getByText(/test square/i)).toBeTruthy();
    expect(screen.getAllByRole('checkbox')).toHaveLength(6);
    expect(offPlaces(bench)).toBeLessThan(0.05);
    await press(bench, 'These pages are right');
    expect(await screen.findByText(/Tick the lines of your size/)).toBeTruthy();
    expect(screen.getByText(/lines drawn again on another page were left out/)).toBeTruthy();
    for (const tick of screen.getAllByRole<HTMLInputElement>('checkbox')) {
      const dashed = /dash/i.test(tick.closest('label')!.textContent!);
      if (tick.checked && dashed) await bench.user.click(tick);
    }
    await press(bench, 'Join these lines');
    const { minX, maxX, minY, maxY } = pathBounds(bench.bringIn.getState().draft!.path!);
    expect(Math.abs(maxX - minX - skirt.width)).toBeLessThan(0.1);
    expect(Math.abs(maxY - minY - skirt.height)).toBeLessThan(0.1);
    expect(screen.getByLabelText<HTMLInputElement>('Name of the piece').value).toBe('Skirt front');
  });

  test('pages are laid by number, one is moved, one left out, and put back as they were found', async () => {
    const bench = await laid(tiledPdf());
    await bench.user.click(screen.getByText('Lay them in rows'));
    const columns = screen.getByLabelText('Side by side');
    await bench.user.clear(columns);
    await bench.user.type(columns, '3{Enter}');
    await typeOver(bench, 'Overlap', '20{Enter}');
    await press(bench, 'Lay them in reading order');
    const at = (page: number) => bench.bringIn.getState().pages!.places.find((place) => place.page === page)!.at;
    const close = (page: number, x: number, y: number) => {
      expect(at(page).x).toBeCloseTo(x, 1);
      expect(at(page).y).toBeCloseTo(y, 1);
    };
    close(1, 0, 0);
    close(3, 2 * 190, 0);
    close(5, 190, 277);
    await bench.user.click(screen.getByText('One page by numbers'));
    await bench.user.selectOptions(screen.getByLabelText('Page'), '3');
    await typeOver(bench, 'To the right', '400{Enter}');
    close(3, 400, 0);
    await bench.user.click(screen.getByLabelText('Page 4'));
    expect(bench.bringIn.getState().pages!.leftOut).toEqual([4]);
    await press(bench, 'Lay them as they were found');
    expect(offPlaces(bench)).toBeLessThan(0.05);
  });

  test('pages the worker has forgotten are given to it again', async () => {
    const bench = await laid(tiledPdf());
    const other = { task: 'pdf', bytes: onePagePdf(), book: 'another' } as const;
    expect((await bench.workshop.reader.read(other)).ok).toBe(true);
    await press(bench, 'These pages are right');
    expect(await screen.findByText(/Tick the lines of your size/)).toBeTruthy();
  });

  test('with every page left out there is nothing to join', async () => {
    const bench = await laid(tiledPdf());
    for (const tick of screen.getAllByRole('checkbox')) await bench.user.click(tick);
    await press(bench, 'These pages are right');
    expect(screen.getByRole('alert').textContent).toContain('Tick the pages');
  });
});

describe('the size a PDF states', () => {
  test('is confirmed by its test square', async () => {
    const bench = await laid(onePagePdf(), 'pocket.pdf');
    expect(bench.bringIn.getState().draft?.scale).toMatchObject({ kind: 'certain' });
    expect(screen.getByText(/test square/i)).toBeTruthy();
    expect(screen.queryByRole('button', { name: 'Check one length' })).toBeNull();
  });

  test('is asked for when the test square disagrees; the square can be taken as the measure', async () => {
    const bench = await laid(onePagePdf({ square: 49 }), 'pocket.pdf');
    expect(bench.bringIn.getState().draft?.scale.kind).toBe('ask');
    expect(screen.getByText(/Give one length you know/)).toBeTruthy();
    await press(bench, 'Make the test square 50 mm');
    const { draft } = bench.bringIn.getState();
    expect(draft?.scale.kind).toBe('certain');
    const pocket = draft!.shapes.map(({ path }) => pathBounds(path)).find(({ maxY, minY }) => maxY - minY > 100)!;
    expect(pocket.maxX - pocket.minX).toBeCloseTo((100 * 50) / 49, 2);
  });

  test('without a square is taken as it is, and a check with one length is offered', async () => {
    const bench = await laid(onePagePdf({ square: null }), 'pocket.pdf');
    expect(screen.getByText(/No test square was found/)).toBeTruthy();
    await press(bench, 'Check one length');
    await bench.user.click(screen.getByLabelText('whole width'));
    await bench.user.type(screen.getByRole('textbox'), '102');
    await press(bench, 'Check it');
    expect(screen.getByRole('alert').textContent).toContain('does not agree');
    expect(bench.bringIn.getState().draft?.scale.kind).toBe('ask');
    await bench.user.clear(screen.getByRole('textbox'));
    await bench.user.type(screen.getByRole('textbox'), '100.2{Enter}');
    expect(bench.bringIn.getState().draft?.scale).toMatchObject({
      kind: 'certain',
      sentence: expect.stringMatching(/Your length agrees: .* -0\.20 % off/),
    });
    const { minX, maxX } = pathBounds(bench.bringIn.getState().draft!.path!);
    expect(maxX - minX).toBeCloseTo(100, 2);
  });
});
