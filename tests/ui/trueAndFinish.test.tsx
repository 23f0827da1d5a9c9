import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { findStep, recipeOf } from '../../src/pattern/lookUp';
import type { RecipeStep } from '../../src/pattern/recipe';
import { FinishPlace } from '../../src/ui/places/FinishPlace';
import { TruePlace } from '../../src/ui/places/TruePlace';
import { type Bench, renderOnBench } from '../support/uiHarness';

function step<Kind extends RecipeStep['kind']>({ store }: Bench, piece: string, kind: Kind) {
  const { garment, activeVersion } = store.getState();
  return findStep(recipeOf(garment!, activeVersion, piece), kind);
}

function fanned(part: React.ReactNode): Bench {
  const bench = renderOnBench(part);
  act(() => {
    const fan = bench.store.commands.fanOf('front');
    if (fan.ok) bench.store.commands.setFan('front', fan.value);
  });
  return bench;
}

describe('the place True', () => {
  test('sends the maker to Fan while nothing is fanned', async () => {
    const bench = renderOnBench(<TruePlace />);
    bench.store.actions.goTo('true');
    await bench.user.click(screen.getByRole('button', { name: 'Go to Fan' }));
    expect(bench.store.getState().place).toBe('fan');
  });

  test('trues the piece, and then matches the back with one press', async () => {
    const bench = fanned(<TruePlace />);
    await bench.user.click(screen.getByRole('button', { name: 'True this piece' }));
    expect(step(bench, 'front', 'true')).toBeDefined();
    const steps = bench.store.getState().past.length;
    await bench.user.click(screen.getByRole('button', { name: 'Match the back' }));
    expect(bench.store.getState().past).toHaveLength(steps + 1);
    expect(step(bench, 'back', 'fan')?.slashes).toHaveLength(4);
    expect(step(bench, 'back', 'true')).toBeDefined();
    expect(bench.store.getState().notice).toMatchObject({ tone: 'done' });
    expect(bench.store.getState().notice?.sentence).toMatch(/Side seams Front .* Back .*: match\./);
    expect(screen.getByRole('button', { name: 'Match the back again' })).toBeTruthy();
  });

  test('takes hem level, corners, added length, blend and spans', async () => {
    const bench = fanned(<TruePlace />);
    await bench.user.click(screen.getByRole('button', { name: 'True this piece' }));
    await bench.user.click(screen.getByLabelText('keep the centre'));
    await bench.user.click(screen.getByLabelText('as they were'));
    const retype = async (label: string, text: string) => {
      const field = screen.getByLabelText(label);
      await bench.user.clear(field);
      await bench.user.type(field, `${text}{Enter}`);
    };
    await retype('Add at the centre', '1/4');
    await retype('Blend below', '4 in');
    await bench.user.click(screen.getByLabelText('soft ends'));
    await bench.user.click(screen.getByRole('button', { name: 'More: Spans of the curve' }));
    const trued = step(bench, 'front', 'true');
    expect(trued?.hem).toMatchObject({ level: 'keep-centre-length', corners: 'keep', spans: 2 });
    expect(trued?.hem.drop.centre).toBeCloseTo(6.35, 9);
    expect(trued?.side.down).toBeCloseTo(101.6, 9);
    expect(trued?.side.fullness).toBe(1);
  });
});

describe('the place Finish', () => {
  test('adds allowances to every piece of the version in one undo step', async () => {
    const bench = fanned(<FinishPlace />);
    const steps = bench.store.getState().past.length;
    await bench.user.click(screen.getByRole('button', { name: 'Add allowances' }));
    expect(bench.store.getState().past).toHaveLength(steps + 1);
    expect(step(bench, 'front', 'finish')).toMatchObject({ seam: 15.875, mirrorHemEnds: true });
    expect(step(bench, 'back', 'finish')).toEqual(step(bench, 'front', 'finish'));
  });

  test('takes one allowance per edge, and none on the fold', async () => {
    const bench = fanned(<FinishPlace />);
    await bench.user.click(screen.getByRole('button', { name: 'Add allowances' }));
    expect(screen.getByText(/Centre front: on the fold, no allowance/)).toBeTruthy();
    const neckline = screen.getByLabelText('Neckline');
    await bench.user.clear(neckline);
    await bench.user.type(neckline, '1/4{Enter}');
    expect(step(bench, 'front', 'finish')?.byEdge).toEqual({ neckline: expect.closeTo(6.35, 9) });
    await bench.user.click(screen.getByRole('button', { name: 'Same on every seam again' }));
    expect(step(bench, 'front', 'finish')?.byEdge).toEqual({});
  });
});
