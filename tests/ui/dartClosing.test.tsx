import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { closingsOf } from '../../src/pattern/closings';
import { recipeOf } from '../../src/pattern/lookUp';
import { FanPlace } from '../../src/ui/places/FanPlace';
import { TruePlace } from '../../src/ui/places/TruePlace';
import { Slip } from '../../src/ui/slip/Slip';
import { type Bench, renderOnBench, sampleGarment } from '../support/uiHarness';

function onBench(): Bench {
  const bench = renderOnBench(
    <>
      <FanPlace />
      <Slip />
    </>,
  );
  bench.store.actions.openGarment({ ...sampleGarment('straight-skirt'), unit: 'cm', versions: [] });
  bench.store.actions.goTo('fan');
  return bench;
}

function closings({ store }: Bench) {
  const { garment, activeVersion, activePiece } = store.getState();
  return closingsOf(recipeOf(garment!, activeVersion, activePiece!));
}

async function retype(bench: Bench, label: string, text: string): Promise<void> {
  const field = screen.getByLabelText(label);
  await bench.user.clear(field);
  await bench.user.type(field, text);
}

const typedIn = (label: string) => screen.getByLabelText<HTMLInputElement>(label).value;

describe('closing a dart in the place Fan', () => {
  test('R36 the dart is closed in one step of a new version, and the slip says what it adds', async () => {
    const bench = onBench();
    // 20 mm wide, 100 mm long, its point 500 mm above the hem: 2 · 500 · sin(atan(10 / 100)) = 99.5 mm.
    await bench.user.click(await screen.findByRole('button', { name: 'Close dart 1, 9.95 cm at the hem' }));
    expect(closings(bench)).toMatchObject([{ dart: 'waist-dart', share: 1, foot: null }]);
    expect(bench.store.getState().past.map(({ label }) => label)).toEqual(['Close a dart into the hem']);
    expect(typedIn('Dart 1, at the hem')).toBe('9.95 cm');
    expect(screen.getByText('Opening from darts').nextSibling?.textContent).toBe('9.95 cm');
  });

  test('R36 the share and the opening are two ways to type the same; one step each', async () => {
    const bench = onBench();
    await bench.user.click(await screen.findByRole('button', { name: /^Close dart 1/ }));
    await retype(bench, 'Dart 1, closed', '50{Enter}');
    expect(closings(bench)[0]!.share).toBe(0.5);
    expect(typedIn('Dart 1, closed')).toBe('50 %');
    await retype(bench, 'Dart 1, at the hem', '4 cm{Enter}');
    const angle = 2 * Math.atan(10 / 100);
    expect(closings(bench)[0]!.share).toBeCloseTo((2 * Math.asin(40 / 1000)) / angle, 2);
    expect(bench.store.getState().past).toHaveLength(3);
    await retype(bench, 'Dart 1, closed', '120{Enter}');
    expect(screen.getByText('Give a share from 0 to 100 per cent.')).toBeTruthy();
    expect(bench.store.getState().past).toHaveLength(3);
  });

  test('it is left open again, and a slash may start elsewhere on the hem', async () => {
    const bench = onBench();
    await bench.user.click(await screen.findByRole('button', { name: /^Close dart 1/ }));
    await bench.user.click(screen.getByRole('button', { name: 'Start the slash elsewhere' }));
    expect(closings(bench)[0]!.foot).toBeGreaterThan(0);
    await retype(bench, 'Dart 1, its slash from the centre line', '12{Enter}');
    expect(closings(bench)[0]!.foot).toBeCloseTo(0.5, 6);
    await bench.user.click(screen.getByRole('button', { name: 'Leave dart 1 open' }));
    expect(closings(bench)).toEqual([]);
    expect(screen.queryByText('Opening from darts')).toBeNull();
  });
});

describe('a closed dart in the place True', () => {
  function trued(back: 'with its dart' | 'without a dart'): Bench {
    const bench = renderOnBench(
      <>
        <TruePlace />
        <Slip />
      </>,
    );
    const sample = sampleGarment('straight-skirt');
    const blocks = sample.blocks.map((block) =>
      block.id === 'back' && back === 'without a dart' ? { ...block, darts: [] } : block,
    );
    act(() => {
      bench.store.actions.openGarment({ ...sample, unit: 'cm', blocks, versions: [] });
      bench.store.commands.closeDart('front', 'waist-dart', 1);
      bench.store.actions.goTo('true');
    });
    return bench;
  }
  const figure = (label: string) => screen.getByText(label).nextSibling?.textContent;

  test('R36 the waist is one smooth line, or keeps its corner; the slip says how far it moves', async () => {
    const bench = trued('with its dart');
    await bench.user.click(screen.getByRole('button', { name: 'True this piece' }));
    expect(figure('Waist redrawn, moves')).toBe('2.0 mm');
    expect(figure('Waist redrawn, length')).toBe('−0.2 mm');
    expect(screen.queryByText(/has a corner of/)).toBeNull();
    await bench.user.click(screen.getByLabelText('keep the corner'));
    expect(screen.queryByText(/^Waist redrawn/)).toBeNull();
    expect(screen.getByText(/the waist has a corner of 13°/)).toBeTruthy();
    await bench.user.click(screen.getByLabelText('one smooth line'));
    expect(figure('Waist redrawn, moves')).toBe('2.0 mm');
    expect(figure('Waist redrawn, length')).toBe('−0.2 mm');
  });

  test('R19 R36 the partner’s dart is closed too, and what each opens at the hem is said', async () => {
    const bench = trued('with its dart');
    await bench.user.click(screen.getByRole('button', { name: 'True this piece' }));
    expect(figure('Opening from darts')).toBe('9.95 cm');
    expect(figure('On Skirt back')).toBe('no dart closed');
    await bench.user.click(screen.getByRole('button', { name: 'Match the skirt back' }));
    // 20 mm wide, 120 mm long, its point 479.7 mm above the hem: 2 · 479.7 · sin(atan(10 / 120)) = 79.7 mm.
    expect(figure('On Skirt back')).toBe('7.97 cm');
    expect(bench.store.getState().notice?.sentence).toMatch(/^Side seams .*: match\.$/);
  });

  test('R36 a partner without such a dart is said to have none', async () => {
    const bench = trued('without a dart');
    await bench.user.click(screen.getByRole('button', { name: 'True this piece' }));
    await bench.user.click(screen.getByRole('button', { name: 'Match the skirt back' }));
    expect(bench.store.getState().notice?.sentence).toContain(
      'Skirt back has no dart on its waist, so none is closed there and its hem gets nothing from a dart.',
    );
    expect(figure('On Skirt back')).toBe('no dart closed');
  });

  test('R36 nothing is asked where no dart is closed whole', () => {
    const bench = trued('with its dart');
    act(() => {
      bench.store.commands.closeDart('front', 'waist-dart', 0.5);
    });
    expect(screen.queryByLabelText('one smooth line')).toBeNull();
  });
});
