import { screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { distance, mix } from '../../src/geometry/point';
import type { Garment } from '../../src/pattern/garment';
import { MarkPlace } from '../../src/ui/places/MarkPlace';
import { renderOnBench, sampleGarment } from '../support/uiHarness';

/** The skirt with its blocks open to marking and its darts taken out. */
function unmarked(): Garment {
  const garment = sampleGarment('straight-skirt');
  return {
    ...garment,
    unit: 'cm',
    versions: [],
    blocks: garment.blocks.map((block) => ({ ...block, locked: false, darts: [] })),
  };
}

function onBench() {
  const bench = renderOnBench(<MarkPlace />, null);
  bench.store.actions.openGarment(unmarked());
  bench.store.actions.goTo('mark');
  return bench;
}

const darts = (bench: ReturnType<typeof onBench>) => bench.store.getState().garment!.blocks[0]!.darts;

describe('darts in the Mark place', () => {
  test('the tool is taken in hand from the row of tools', async () => {
    const bench = onBench();
    await bench.user.click(await screen.findByRole('button', { name: 'Dart' }));
    expect(bench.store.getState().tool).toBe('dart');
  });

  test('a dart is set by its measures with the keyboard, listed, and taken away again', async () => {
    const bench = onBench();
    await bench.user.click(await screen.findByText('Darts'));
    await bench.user.selectOptions(screen.getByLabelText('A further dart, on the edge'), 'Waist');
    const width = screen.getByLabelText('Width of its mouth');
    await bench.user.clear(width);
    await bench.user.type(width, '3{Enter}');
    await bench.user.click(screen.getByRole('button', { name: 'Set dart halfway' }));
    const [dart] = darts(bench);
    expect(dart!.edge).toBe('waist');
    // 30 mm along a nearly straight waist, the point square to the mouth and 110 mm from it.
    expect(distance(...dart!.legs)).toBeCloseTo(30, 1);
    expect(distance(mix(...dart!.legs, 0.5), dart!.apex)).toBeCloseTo(110, 6);
    expect(screen.getByText(/^Dart 1 on the waist: 3.0 cm wide, 11.0 cm long$/)).toBeTruthy();
    expect(bench.store.getState().past.at(-1)!.label).toBe('Dart');
    await bench.user.click(screen.getByRole('button', { name: 'Take away dart 1 on the waist' }));
    expect(darts(bench)).toEqual([]);
    expect(screen.queryByText(/^Dart 1 /)).toBeNull();
  });

  test('one that cannot lie there is refused with a sentence and changes nothing', async () => {
    const bench = onBench();
    const before = bench.store.getState().garment;
    await bench.user.click(await screen.findByText('Darts'));
    await bench.user.selectOptions(screen.getByLabelText('A further dart, on the edge'), 'Centre front');
    await bench.user.click(screen.getByRole('button', { name: 'Set dart halfway' }));
    expect(bench.store.getState().notice).toEqual({
      tone: 'refused',
      sentence: 'A dart cannot open on the fold, where the cloth goes on.',
    });
    expect(bench.store.getState().garment).toBe(before);
  });
});
