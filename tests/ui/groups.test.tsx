import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { nameAndSize } from '../../src/pattern/sizeWords';
import { openFile } from '../../src/ui/bringin/fileDoor';
import { sizeFromLayer } from '../../src/ui/bringin/sizeFromLayer';
import { BringInPlace } from '../../src/ui/places/BringInPlace';
import { type Bench, renderOnBench } from '../support/uiHarness';

/** Two sizes of one piece as loose lines, size 10 solid, size 12 dashed; the ends of size 12 lie 1.2 mm apart at one corner. */
const nested = `<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="400mm" viewBox="0 0 300 400">
  <g id="size-10" stroke="black" fill="none"><path d="M10 10V310"/><path d="M10 310H160"/><path d="M160 310V10"/><path d="M160 10H10"/></g>
  <g id="size-12" stroke="black" fill="none" stroke-dasharray="6 3"><path d="M10 10V330"/><path d="M10 330H180"/><path d="M180 330V0"/><path d="M180 0H11.2L11.2 10"/></g>
</svg>`;

async function laid(): Promise<Bench> {
  const bench = renderOnBench(<BringInPlace />, null);
  await act(async () => {
    const opened = await openFile(new File([nested], 'skirt.svg'), bench.store, bench.workshop);
    if (!opened.ok) throw new Error(opened.sentence);
    bench.store.commands.setUnit('mm');
  });
  return bench;
}

const ticks = () => screen.getAllByRole<HTMLInputElement>('checkbox');
const shown = ({ bringIn }: Bench) => bringIn.getState().draft!.shapes.length;

describe('picking a size by its lines', () => {
  test('each kind of line is told in words with its layer, count and length, and is ticked at first', async () => {
    const bench = await laid();
    expect(screen.getByText(/Tick the lines of your size/)).toBeTruthy();
    expect(ticks().map(({ checked }) => checked)).toEqual([true, true]);
    const words = ticks().map((tick) => tick.closest('label')!.textContent);
    expect(words.some((text) => /size-10/.test(text!) && /4 lines, 900\.0 mm in all/.test(text!))).toBe(true);
    expect(words.some((text) => /size-12/.test(text!) && /dash/i.test(text!))).toBe(true);
    expect(shown(bench)).toBe(8);
  });

  test('only ticked lines stay on the table; one size joined becomes the outline, with its size', async () => {
    const bench = await laid();
    await bench.user.click(ticks().find((tick) => /size-12/.test(tick.closest('label')!.textContent!))!);
    expect(shown(bench)).toBe(4);
    await bench.user.click(screen.getByRole('button', { name: 'Join these lines' }));
    const { draft } = bench.bringIn.getState();
    expect(draft?.path).not.toBeNull();
    expect(screen.getByLabelText<HTMLInputElement>('Size, if any').value).toBe('10');
    await bench.user.click(screen.getByLabelText('the stitching line'));
    await bench.user.click(screen.getByRole('button', { name: 'Make it a piece' }));
    expect(bench.store.getState().garment?.blocks.map(nameAndSize)).toEqual(['Skirt, size 10']);
  });

  test('with nothing ticked there is nothing to join', async () => {
    const bench = await laid();
    await bench.user.click(screen.getByRole('button', { name: 'Tick none' }));
    expect(shown(bench)).toBe(0);
    await bench.user.click(screen.getByRole('button', { name: 'Join these lines' }));
    expect(screen.getByRole('alert').textContent).toContain('Tick the lines');
    await bench.user.click(screen.getByRole('button', { name: 'Tick all' }));
    expect(shown(bench)).toBe(8);
  });

  test('a gap wider than is closed by itself is named, and closed when the maker lets it be', async () => {
    const bench = await laid();
    await bench.user.click(ticks().find((tick) => /size-10/.test(tick.closest('label')!.textContent!))!);
    await bench.user.click(screen.getByRole('button', { name: 'Join these lines' }));
    expect(screen.getByText(/These lines close nowhere/)).toBeTruthy();
    expect(screen.getByText(/the nearest loose ends are 1\.20 mm apart/)).toBeTruthy();
    const gap = screen.getByLabelText('Gap that may be closed');
    await bench.user.clear(gap);
    await bench.user.type(gap, '1.5{Enter}');
    expect(bench.bringIn.getState().draft?.path).not.toBeNull();
    expect(screen.getByText(/the widest 1\.20 mm/)).toBeTruthy();
  });
});

describe('the size of a piece', () => {
  test.each([
    ['Size 12', '12'],
    ['size_m', 'M'],
    ['SIZE-44/46', '44/46'],
    ['Layer 12', null],
    ['sizes 8 to 20', null],
    [null, null],
  ])('a layer called %s is size %s', (layer, size) => {
    expect(sizeFromLayer(layer)).toBe(size);
  });

  test('stands on the label as a size, however it is written', () => {
    expect(nameAndSize({ name: 'Skirt front', size: '12' })).toBe('Skirt front, size 12');
    expect(nameAndSize({ name: 'Skirt front', size: 'Size 12' })).toBe('Skirt front, size 12');
    expect(nameAndSize({ name: 'Skirt front', size: null })).toBe('Skirt front');
  });
});
