import { readFileSync } from 'node:fs';
import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { pathBounds } from '../../src/geometry/bounds';
import { openFile } from '../../src/ui/bringin/fileDoor';
import { BringInPlace } from '../../src/ui/places/BringInPlace';
import { MarkPlace } from '../../src/ui/places/MarkPlace';
import { useApp } from '../../src/ui/storeContext';
import { type Bench, renderOnBench } from '../support/uiHarness';

function Part() {
  return useApp((state) => state.place) === 'mark' ? <MarkPlace /> : <BringInPlace />;
}

async function laidDown(name: string): Promise<Bench> {
  const bench = renderOnBench(<Part />, null);
  const file = new File([readFileSync(`tests/fixtures/svg/${name}`)], name);
  await act(async () => {
    const opened = await openFile(file, bench.store, bench.bringIn);
    if (!opened.ok) throw new Error(opened.sentence);
    bench.store.commands.setUnit('cm');
  });
  return bench;
}

describe('bringing in a drawing', () => {
  test('with its size stated: edges are proposed by name, and it becomes a piece', async () => {
    const bench = await laidDown('bodice-cm.svg');
    const roles = screen
      .getAllByRole<HTMLSelectElement>('combobox', { name: /^Edge \d is$/ })
      .map(({ value }) => value);
    expect(roles.toSorted()).toEqual(['armhole', 'centre-front', 'hem', 'neckline', 'shoulder', 'side']);
    const name = screen.getByLabelText('Name of the piece');
    await bench.user.clear(name);
    await bench.user.type(name, 'Front');
    await bench.user.selectOptions(screen.getByLabelText('On the fold'), 'Centre front');
    await bench.user.click(screen.getByRole('button', { name: 'Make it a piece' }));
    const { garment, place } = bench.store.getState();
    expect(garment?.blocks).toMatchObject([{ name: 'Front', fold: 'centre-front', locked: false }]);
    expect(bench.bringIn.getState().draft).toBeNull();
    expect(place).toBe('mark');
  });

  test('without its size: one known length is asked for, and sets the scale', async () => {
    const bench = await laidDown('no-view-box.svg');
    expect(screen.getByText(/Give one length you know, and everything/)).toBeTruthy();
    await bench.user.click(screen.getByRole('button', { name: 'Set the scale' }));
    expect(screen.getByRole('alert').textContent).toContain('Type a length');
    await bench.user.click(screen.getByLabelText('whole width'));
    await bench.user.type(screen.getByRole('textbox'), '26{Enter}');
    const { draft } = bench.bringIn.getState();
    expect(draft?.scale.kind).toBe('certain');
    const { minX, maxX } = pathBounds(draft!.path!);
    expect(maxX - minX).toBeCloseTo(260, 6);
  });

  test('a line drawn on the table counts as the known length', async () => {
    const bench = await laidDown('no-view-box.svg');
    expect(bench.store.getState().tool).toBe('measure');
    await bench.user.type(screen.getByRole('textbox'), '10{Enter}');
    expect(screen.getByRole('alert').textContent).toContain('First draw along the line');
    act(() => bench.bringIn.actions.measureScale({ x: 0, y: 0 }, { x: 0, y: 50 }));
    const before = pathBounds(bench.bringIn.getState().draft!.shapes[0]!.path);
    await bench.user.click(screen.getByRole('button', { name: 'Set the scale' }));
    const after = pathBounds(bench.bringIn.getState().draft!.shapes[0]!.path);
    expect((after.maxY - after.minY) / (before.maxY - before.minY)).toBeCloseTo(100 / 50, 9);
  });

  test('marks are set by keyboard alone, then the block is locked for good', async () => {
    const bench = await laidDown('bodice-cm.svg');
    await bench.user.click(screen.getByRole('button', { name: 'Make it a piece' }));
    await bench.user.selectOptions(screen.getByLabelText('On the fold'), 'Centre front');
    await bench.user.selectOptions(screen.getByLabelText('A further notch, on the edge'), 'Side seam');
    await bench.user.click(screen.getByRole('button', { name: 'Set halfway' }));
    const along = screen.getByLabelText('Notch 1 on the side seam, along it');
    await bench.user.clear(along);
    await bench.user.type(along, '12{Enter}');
    await bench.user.click(screen.getByLabelText('double'));
    await bench.user.click(screen.getByRole('button', { name: 'More: Cut how many' }));
    expect(bench.store.getState().garment?.blocks[0]).toMatchObject({
      fold: 'centre-front',
      cutCount: 2,
      notches: [{ edge: 'side', style: 'double', distance: expect.closeTo(120, 9) }],
    });
    await bench.user.click(screen.getByRole('button', { name: 'Lock the block and fan it' }));
    expect(bench.store.getState().garment?.blocks[0]?.locked).toBe(true);
    expect(bench.store.getState().place).toBe('fan');
  });
});

describe('the pen', () => {
  test('is taken up and laid down, and points are taken back', async () => {
    const bench = renderOnBench(<BringInPlace />);
    await bench.user.click(screen.getByRole('button', { name: /Draw with the pen/ }));
    expect(bench.store.getState().tool).toBe('pen');
    const corner = { at: { x: 0, y: 0 }, handleIn: null, handleOut: null };
    act(() => bench.bringIn.actions.drawPen({ nodes: [corner], next: null }));
    await bench.user.click(screen.getByRole('button', { name: 'Back one point' }));
    expect(bench.bringIn.getState().pen.nodes).toHaveLength(0);
    await bench.user.click(screen.getByRole('button', { name: 'Stop drawing' }));
    expect(bench.store.getState().tool).toBe('hand');
  });
});
