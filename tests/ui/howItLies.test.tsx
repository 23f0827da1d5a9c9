import { readFileSync } from 'node:fs';
import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathBounds } from '../../src/geometry/bounds';
import { pathLength } from '../../src/geometry/path';
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
  });
  return bench;
}

const draftOf = (bench: Bench) => bench.bringIn.getState().draft!;
const radio = (name: string) => screen.getByRole<HTMLInputElement>('radio', { name });
const press = (bench: Bench, name: string) => bench.user.click(screen.getByRole('button', { name }));
const all = 'all of it, both sides the same';

describe('how a piece lies on the paper', () => {
  test('R34 drawn whole: the guess is offered, it must be said, folded in half it becomes a piece on the fold', async () => {
    const bench = await laidDown('front-whole.svg');
    expect(screen.getByText('Both sides look the same.')).toBeTruthy();
    expect(radio(all).checked).toBe(false);
    await bench.user.click(radio('the stitching line'));
    await press(bench, 'Make it a piece');
    expect(screen.getByRole('alert').textContent).toContain('Say first whether the paper shows');
    const whole = draftOf(bench);
    await bench.user.click(radio(all));
    const { line } = draftOf(bench).lie!;
    // The fixture is 0.8 mm wider on one side at the hem, less where the axis shares it out.
    expect(line!.apart).toBeGreaterThan(0.2);
    expect(line!.apart).toBeLessThan(0.9);
    expect(Math.abs(line!.from.x - 260)).toBeLessThan(0.5);
    expect(screen.getByText(/Both sides are nowhere more than 0\.\d mm apart/)).toBeTruthy();
    await press(bench, 'Make it a piece');
    expect(screen.getByRole('alert').textContent).toContain('Fold it in half first');
    await press(bench, 'Fold it in half');
    const half = draftOf(bench);
    expect(enclosedArea(half.path!)).toBeCloseTo(enclosedArea(whole.path!) / 2, -2);
    expect(half.path!.length).toBeLessThanOrEqual(12);
    expect(half.corners.map(({ role }) => role).toSorted()).toEqual([
      'armhole',
      'centre-front',
      'hem',
      'neckline',
      'shoulder',
      'side',
    ]);
    expect(screen.getByText(/^Folded in half; opened out again it leaves the paper by 0\.\d mm/)).toBeTruthy();
    await bench.user.type(screen.getByLabelText('Size, if any'), '12');
    await press(bench, 'Make it a piece');
    const [block] = bench.store.getState().garment!.blocks;
    expect(block).toMatchObject({ size: '12', fold: 'centre-front', cutCount: 1 });
    expect(pathLength(block!.edges.find(({ id }) => id === 'centre-front')!.path)).toBeCloseTo(350, 0);
  }, 20_000);

  test('R34 folding is taken back by undo and by opening out, and the half can be that of one side', async () => {
    const bench = await laidDown('front-whole.svg');
    await bench.user.click(radio(all));
    const before = draftOf(bench);
    await bench.user.click(screen.getByRole('radio', { name: 'left half' }));
    await press(bench, 'Fold it in half');
    expect(pathBounds(draftOf(bench).path!).maxX).toBeLessThan(260.5);
    await press(bench, 'Open it out again');
    expect(draftOf(bench).path).toEqual(before.path);
    expect(draftOf(bench).corners).toEqual(before.corners);
    await press(bench, 'Fold it in half');
    act(() => void bench.bringIn.actions.takeBackPoint());
    expect(draftOf(bench).path).toEqual(before.path);
    expect(draftOf(bench).lie!.whole).toBeNull();
  }, 20_000);

  test('R34 a cut line drawn whole is folded first, then drawn in by its allowances, none on the fold', async () => {
    const bench = await laidDown('front-whole.svg');
    await bench.user.click(radio(all));
    await press(bench, 'Fold it in half');
    await bench.user.click(radio('the cut line, allowances included'));
    const allowance = screen.getByLabelText(/^Allowance all round/);
    await bench.user.clear(allowance);
    await bench.user.type(allowance, '10 mm{Enter}');
    await press(bench, 'Make it a piece');
    const [block] = bench.store.getState().garment!.blocks;
    expect(block!.fold).toBe('centre-front');
    // Neck and hem each 10 mm in, the centre where it was: 350 long on the paper.
    const centre = block!.edges.find(({ id }) => id === 'centre-front')!.path;
    expect(pathLength(centre)).toBeCloseTo(330, 0);
    expect(Math.abs(centre[0]!.start.x - 260)).toBeLessThan(0.3);
  });

  test('R34 the fold can be set through two places, and one that fits nowhere is refused with its figure', async () => {
    const bench = await laidDown('front-whole.svg');
    await bench.user.click(radio(all));
    const best = draftOf(bench).lie!.line!;
    await bench.user.click(screen.getByText('Set the fold by two places'));
    const places = [...screen.getByLabelText<HTMLSelectElement>('From').options].map(({ value }) => value);
    const hem = places.find((place) => /^middle of .*hem/.test(place))!;
    const starts = places.filter((place) => place.startsWith('start'));
    await bench.user.selectOptions(screen.getByLabelText('To'), hem);
    await bench.user.selectOptions(screen.getByLabelText('From'), starts[1]!);
    expect(draftOf(bench).lie!.line).not.toEqual(best);
    expect(screen.getByRole('alert').textContent).toMatch(/\d mm apart, and 10\.0 mm is the most/);
    expect(screen.getByRole<HTMLButtonElement>('button', { name: 'Fold it in half' }).disabled).toBe(true);
  });

  test('R34 half a piece: it looks like one, and its fold must be said', async () => {
    const bench = await laidDown('bodice-cm.svg');
    expect(screen.getByText(/is straight; it may lie on the fold/)).toBeTruthy();
    await bench.user.click(radio('the stitching line'));
    await bench.user.click(radio('half of it, one edge on the fold'));
    await press(bench, 'Make it a piece');
    expect(screen.getByRole('alert').textContent).toContain('Say which edge lies on the fold.');
    await bench.user.click(radio('all of it, cut as it lies'));
    expect(screen.queryByLabelText('On the fold')).toBeNull();
    await press(bench, 'Make it a piece');
    expect(bench.store.getState().garment!.blocks[0]!.fold).toBeNull();
  });

  test('R34 name and size can be changed in Mark until the block is locked', async () => {
    const bench = await laidDown('bodice-cm.svg');
    await bench.user.click(radio('the stitching line'));
    await press(bench, 'Make it a piece');
    const size = screen.getByLabelText('Size, if any');
    await bench.user.type(size, ' 38 {Enter}');
    expect(bench.store.getState().garment!.blocks[0]!.size).toBe('38');
    await bench.user.clear(size);
    await bench.user.tab();
    expect(bench.store.getState().garment!.blocks[0]!.size).toBeNull();
  });
});
