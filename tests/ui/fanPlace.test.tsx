import { fireEvent, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { findStep, recipeOf } from '../../src/pattern/lookUp';
import type { FanStep } from '../../src/pattern/recipe';
import { FanPlace } from '../../src/ui/places/FanPlace';
import { type Bench, renderOnBench, sampleGarment } from '../support/uiHarness';

function fanOnTable({ store }: Bench): FanStep {
  const { garment, activeVersion, activePiece } = store.getState();
  const fan = findStep(recipeOf(garment!, activeVersion, activePiece!), 'fan');
  if (fan === undefined) throw new Error('nothing is fanned');
  return fan;
}

async function placed(): Promise<Bench> {
  const bench = renderOnBench(<FanPlace />);
  await bench.user.click(screen.getByRole('button', { name: 'Place the fan' }));
  return bench;
}

async function retype(bench: Bench, label: RegExp | string, text: string): Promise<void> {
  const field = screen.getByLabelText(label);
  await bench.user.clear(field);
  await bench.user.type(field, text);
}

describe('the place Fan', () => {
  test('on the block it says that a new version is started and the block stays', () => {
    renderOnBench(<FanPlace />);
    expect(screen.getByText(/starts a new version, and the block stays as it is/)).toBeTruthy();
  });

  test('placing a fan starts a version and leaves the block as it was', async () => {
    const bench = await placed();
    const { garment, activeVersion, notice } = bench.store.getState();
    expect(garment?.versions).toHaveLength(1);
    expect(activeVersion).toBe(garment?.versions[0]?.id);
    expect(garment?.blocks).toEqual(sampleGarment('sleeveless-top').blocks);
    expect(notice?.sentence).toContain('The block stays as it was');
  });

  test('it starts on whole marks of the maker’s tape', async () => {
    const bench = await placed();
    const fan = fanOnTable(bench);
    expect(fan.fullness?.downSide).toBeCloseTo(50.8, 9);
    expect(fan.slashes.map((slash) => slash.opening)).toEqual(
      fan.slashes.map(() => ({ measure: 'chord', hem: expect.closeTo(38.1, 9), far: 0 })),
    );
    expect(screen.getByLabelText<HTMLInputElement>('Fullness line, down the side seam').value).toBe('2 in');
  });

  test('R3 the count of slash lines is dragged sideways: live, one step on release, none after Escape', async () => {
    const bench = await placed();
    const steps = bench.store.getState().past.length;
    const digits = screen.getByLabelText<HTMLInputElement>('Slash lines');
    const press = (clientX: number) => fireEvent.pointerDown(digits, { button: 0, pointerId: 1, clientX });
    const move = (clientX: number) => fireEvent.pointerMove(digits, { pointerId: 1, clientX });
    const release = () => fireEvent.pointerUp(digits, { pointerId: 1 });
    const shownSlashes = () =>
      findStep(recipeOf(bench.store.getState().preview!, bench.store.getState().activeVersion, 'front'), 'fan')!
        .slashes;

    press(100);
    move(175);
    expect(digits.value).toBe('7');
    expect(shownSlashes()).toHaveLength(7);
    expect(bench.store.getState().past).toHaveLength(steps);
    release();
    expect(fanOnTable(bench).slashes).toHaveLength(7);
    expect(bench.store.getState().past).toHaveLength(steps + 1);

    press(100);
    move(20);
    expect(shownSlashes()).toHaveLength(4);
    await bench.user.keyboard('{Escape}');
    expect(bench.store.getState().preview).toBeNull();
    release();
    expect(fanOnTable(bench).slashes).toHaveLength(7);
    expect(bench.store.getState().past).toHaveLength(steps + 1);
  });

  test('a typed opening shows before it is kept and is one undo step', async () => {
    const bench = await placed();
    const steps = bench.store.getState().past.length;
    await retype(bench, 'Opening, each', '2');
    expect(bench.store.getState().preview).not.toBeNull();
    expect(bench.store.getState().past).toHaveLength(steps);
    await bench.user.keyboard('{Enter}');
    expect(bench.store.getState().past).toHaveLength(steps + 1);
    expect(fanOnTable(bench).slashes.map((slash) => slash.opening)).toEqual(
      fanOnTable(bench).slashes.map(() => ({ measure: 'chord', hem: expect.closeTo(50.8, 9), far: 0 })),
    );
  });

  test('Escape while typing leaves everything as it was', async () => {
    const bench = await placed();
    const before = bench.store.getState().garment;
    await retype(bench, 'Fullness line, down the side seam', '9 cm');
    await bench.user.keyboard('{Escape}');
    expect(bench.store.getState().preview).toBeNull();
    expect(bench.store.getState().garment).toBe(before);
  });

  test('the number of slash lines steps up and down', async () => {
    const bench = await placed();
    await bench.user.click(screen.getByRole('button', { name: 'More: Slash lines' }));
    expect(fanOnTable(bench).slashes).toHaveLength(5);
    const count = screen.getByRole('spinbutton', { name: 'Slash lines' });
    await bench.user.clear(count);
    await bench.user.type(count, '2{Enter}');
    expect(fanOnTable(bench).slashes).toHaveLength(2);
  });

  test('each slash is placed and opened by itself, and is then selected on the table', async () => {
    const bench = await placed();
    await retype(bench, 'Slash 2, opening', '3');
    await bench.user.keyboard('{Enter}');
    const fan = fanOnTable(bench);
    expect(fan.slashes[1]?.opening).toMatchObject({ measure: 'chord', hem: expect.closeTo(76.2, 9) });
    expect(fan.slashes[0]?.opening).toMatchObject({ measure: 'chord', hem: expect.closeTo(38.1, 9) });
    expect(bench.store.getState().selection).toMatchObject({ kind: 'slash', slash: fan.slashes[1]?.id });
    const all = screen.getByLabelText('All (now uneven)');
    await retype(bench, 'All (now uneven)', '2');
    // What shows on the table is even again, but a field does not change its name under the hands that type in it.
    expect(bench.store.getState().preview).not.toBeNull();
    expect(screen.getByLabelText('All (now uneven)')).toBe(all);
    await bench.user.keyboard('{Enter}');
    expect(screen.getByLabelText('Opening, each')).toBe(all);

    const across = fan.slashes[0]!.across;
    const field = screen.getByLabelText<HTMLInputElement>('Slash 1, from the centre');
    await bench.user.click(field);
    await bench.user.keyboard('{ArrowUp}{ArrowUp}{Enter}');
    expect(fanOnTable(bench).slashes[0]!.across).toBeGreaterThan(across);
  });

  test('the wanted hem is reached', async () => {
    const bench = await placed();
    await retype(bench, 'Hem of this piece, wanted', '20 in');
    await bench.user.keyboard('{Enter}');
    expect(screen.getByLabelText<HTMLInputElement>('Hem of this piece, wanted').value).toBe('20 in');
  });

  test('each rule at the centre line says what it costs', async () => {
    const bench = await placed();
    expect(screen.getByText(/Costs a filled strip of .* down the centre/)).toBeTruthy();
    await bench.user.click(screen.getByLabelText('slides back to the line'));
    expect(fanOnTable(bench).centreRule).toBe('slide');
    expect(screen.getByText(/side hinge tears by/)).toBeTruthy();
    await bench.user.click(screen.getByLabelText('keeps its hem corner on the line'));
    expect(fanOnTable(bench).centreRule).toBe('corner');
    expect(screen.getByText(/centre line comes out shorter/)).toBeTruthy();
  });

  test('a fullness line below the hem is refused with a sentence, and the last good one stays', async () => {
    const bench = await placed();
    const before = fanOnTable(bench);
    await retype(bench, 'Fullness line, down the side seam', '200 cm');
    await bench.user.keyboard('{Enter}');
    expect(screen.getByRole('alert').textContent).toContain('The fullness line must meet');
    expect(fanOnTable(bench)).toBe(before);
  });

  test('the slashes may run right through to the far edge, and back', async () => {
    const bench = await placed();
    await bench.user.click(screen.getByLabelText('at the far edge'));
    expect(fanOnTable(bench).fullness).toBeNull();
    await retype(bench, 'At the far edge, each', '1/2');
    await bench.user.keyboard('{Enter}');
    expect(fanOnTable(bench).slashes[0]?.opening).toMatchObject({ far: expect.closeTo(12.7, 9) });
  });

  test('the lines may lean, typed in degrees', async () => {
    const bench = await placed();
    await retype(bench, 'Fullness line, centre end raised', '4.5');
    await bench.user.keyboard('{Enter}');
    expect(fanOnTable(bench).fullness?.tilt).toBeCloseTo((4.5 * Math.PI) / 180, 9);
  });

  test('taking the fan away is undone by undo', async () => {
    const bench = await placed();
    const fanned = bench.store.getState().garment;
    await bench.user.click(screen.getByRole('button', { name: 'Take the fan away' }));
    expect(() => fanOnTable(bench)).toThrow('nothing is fanned');
    bench.store.actions.undo();
    expect(bench.store.getState().garment).toEqual(fanned);
  });

  test('openings may be measured by arc or by angle, without moving anything', async () => {
    const bench = await placed();
    await bench.user.click(screen.getByText('Each slash by itself'));
    await bench.user.click(screen.getByLabelText('by angle'));
    const fan = fanOnTable(bench);
    expect(fan.slashes.every(({ opening }) => opening.measure === 'angle')).toBe(true);
    await retype(bench, 'Slash 2, opening', '10');
    await bench.user.keyboard('{Enter}');
    expect(fanOnTable(bench).slashes[1]!.opening).toEqual({
      measure: 'angle',
      angle: expect.closeTo(Math.PI / 18, 12),
    });
    await bench.user.click(screen.getByLabelText('straight'));
    expect(fanOnTable(bench).slashes[0]!.opening).toEqual({ measure: 'chord', hem: expect.closeTo(38.1, 6), far: 0 });
  });

  test('a refusal is said under the field it is about, and once', async () => {
    const bench = await placed();
    await retype(bench, 'Opening, each', '200');
    expect(screen.getAllByRole('alert')).toHaveLength(1);
    expect(bench.store.getState().notice?.tone).not.toBe('refused');
  });

  test('from the far edge back to a line: the usual line of this piece comes back', async () => {
    const bench = await placed();
    await bench.user.click(screen.getByLabelText('at the far edge'));
    expect(fanOnTable(bench).fullness).toBeNull();
    await retype(bench, 'At the far edge, each', '1/2');
    await bench.user.keyboard('{Enter}');
    await bench.user.click(screen.getByLabelText('at a line'));
    expect(fanOnTable(bench).fullness?.downSide).toBeCloseTo(50.8, 9);
  });
});
