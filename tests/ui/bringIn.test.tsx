import { readFileSync } from 'node:fs';
import { act, cleanup, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { pathBounds } from '../../src/geometry/bounds';
import { chooseOutline } from '../../src/ui/bringin/chooseOutline';
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
    const opened = await openFile(file, bench.store, bench.workshop);
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
    await bench.user.click(screen.getByLabelText('the stitching line'));
    await bench.user.click(screen.getByRole('button', { name: 'Make it a piece' }));
    const { garment, place } = bench.store.getState();
    expect(garment?.blocks).toMatchObject([{ name: 'Front', fold: 'centre-front', locked: false }]);
    expect(bench.bringIn.getState().draft).toBeNull();
    expect(place).toBe('mark');
  });

  test('the words beside the outline in the drawing name the piece; without any, the file does', async () => {
    const named = await laidDown('skirt-mm.svg');
    const field = screen.getByLabelText<HTMLInputElement>('Name of the piece');
    expect(field.value).toBe('Skirt front');
    const { draft } = named.bringIn.getState();
    expect(chooseOutline({ ...draft!, name: 'My own' }, draft!.shapes[0]!).name).toBe('My own');
    cleanup();
    await laidDown('bodice-cm.svg');
    expect(screen.getByLabelText<HTMLInputElement>('Name of the piece').value).toBe('Bodice cm');
  });

  test('the file picker behind the button is no second thing to read out or to press', () => {
    renderOnBench(<BringInPlace />);
    const pickers = [...document.querySelectorAll<HTMLInputElement>('input[type=file]')];
    expect(pickers.map(({ hidden }) => hidden)).toEqual([true, true]);
    expect(screen.queryByLabelText(/Open a file|Photograph/)).toBeNull();
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

  test('a second known length is checked: what agrees is told, what does not is refused', async () => {
    const bench = await laidDown('no-view-box.svg');
    const { minX, minY, maxX, maxY } = pathBounds(bench.bringIn.getState().draft!.shapes[0]!.path);
    const height = (26 * (maxY - minY)) / (maxX - minX);
    const check = screen.getByRole<HTMLButtonElement>('button', { name: 'Check with a second length' });
    expect(check.disabled).toBe(true);
    await bench.user.click(screen.getByLabelText('whole width'));
    await bench.user.click(check);
    const [first, second] = screen.getAllByRole('textbox') as [HTMLElement, HTMLElement];
    await bench.user.type(first, '26');
    await bench.user.type(second, `${(height * 1.01).toFixed(3)}{Enter}`);
    expect(screen.getByRole('alert').textContent).toContain('The second length does not agree');
    expect(second.getAttribute('aria-invalid')).toBe('true');
    expect(bench.bringIn.getState().draft?.scale.kind).toBe('ask');
    await bench.user.clear(second);
    await bench.user.type(second, `${(height * 1.002).toFixed(3)}{Enter}`);
    expect(bench.bringIn.getState().draft?.scale).toMatchObject({
      kind: 'certain',
      sentence: expect.stringMatching(/The second length agrees: .* -0\.20 % off/),
    });
  });

  test('a line checked against another: the first is kept while the second is drawn', async () => {
    const bench = await laidDown('no-view-box.svg');
    act(() => bench.bringIn.actions.measureScale({ x: 0, y: 0 }, { x: 0, y: 50 }));
    await bench.user.click(screen.getByRole('button', { name: 'Check with a second length' }));
    const [, another] = screen.getAllByLabelText('a line') as [HTMLElement, HTMLElement];
    await bench.user.click(another);
    act(() => bench.bringIn.actions.measureScale({ x: 0, y: 0 }, { x: 30, y: 0 }));
    const [first, second] = screen.getAllByRole('textbox') as [HTMLElement, HTMLElement];
    await bench.user.type(first, '10');
    await bench.user.type(second, '6{Enter}');
    const { scale } = bench.bringIn.getState().draft!;
    expect(scale).toMatchObject({ kind: 'certain', sentence: expect.stringContaining('The second length agrees') });
    expect(scale.sentence).toContain('You measured a length of 100 mm: 2 mm to the unit');
  });

  test('loose lines are joined into an outline, and what was done is said', async () => {
    const bench = await laidDown('loose-lines.svg');
    const draft = bench.bringIn.getState().draft!;
    expect(draft.path).not.toBeNull();
    expect(draft.shapes.filter(({ closed }) => closed)).toHaveLength(1);
    expect(draft.corners.length).toBeGreaterThanOrEqual(4);
    expect(screen.getByText('1 line drawn twice was left out.')).toBeTruthy();
    expect(screen.getByText(/gaps between loose ends were closed, the widest/)).toBeTruthy();
  });

  test('a trace of many small steps becomes a few lines and curves, and how near they lie is said', async () => {
    const bench = await laidDown('traced-800.svg');
    const { path } = bench.bringIn.getState().draft!;
    expect(path!.length).toBeLessThanOrEqual(10);
    expect(path!.some((segment) => segment.kind === 'cubic')).toBe(true);
    expect(screen.getByText(/^800 small steps were drawn as \d+ lines and curves/)).toBeTruthy();
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
    await bench.user.click(screen.getByLabelText('the stitching line'));
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
