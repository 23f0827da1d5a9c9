import { act, screen } from '@testing-library/react';
import { expect, test } from 'vitest';
import { pathLength } from '../../src/geometry/path';
import { point } from '../../src/geometry/point';
import { cubic } from '../../src/geometry/segment';
import { FoldChoice } from '../../src/ui/mark/FoldChoice';
import { useApp } from '../../src/ui/storeContext';
import { renderOnBench } from '../support/uiHarness';

function FirstBlock() {
  const block = useApp((state) => state.garment!.blocks.at(-1)!);
  return <FoldChoice block={block} />;
}

/** A piece of 200 by 600 mm whose centre wavers by a given width, as a traced edge does. */
function withCentre(waver: number) {
  const bench = renderOnBench(<FirstBlock />);
  const corners = [point(0, 0), point(0, 600), point(200, 600), point(200, 0)];
  const side = (i: number) => cubic(corners[i]!, corners[i]!, corners[(i + 1) % 4]!, corners[(i + 1) % 4]!);
  // A cubic whose inner points both lie this far to the side leaves the straight by three quarters of it.
  const far = (4 / 3) * waver;
  const centre = cubic(corners[0]!, point(far, 200), point(far, 400), corners[1]!);
  act(() => {
    const added = bench.store.commands.addPiece({
      ...bench.store.getState().garment!.blocks[0]!,
      id: 'traced',
      name: 'Traced',
      edges: [
        { id: 'centre-front', name: 'Centre front', role: 'centre-front', path: [centre] },
        { id: 'hem', name: 'Hem', role: 'hem', path: [side(1)] },
        { id: 'side', name: 'Side seam', role: 'side', path: [side(2)] },
        { id: 'waist', name: 'Waist', role: 'waist', path: [side(3)] },
      ],
      notches: [{ id: 'low', edge: 'centre-front', distance: pathLength([centre]), style: 'single' }],
      grainline: null,
      fold: null,
      drillHoles: [],
      darts: [],
      internalLines: [],
      labelAt: null,
      locked: false,
    });
    if (!added.ok) throw new Error(added.sentence);
  });
  return bench;
}

test('an edge that is straight but for its tracing may lie on the fold, and is drawn straight there', async () => {
  const bench = withCentre(0.4);
  await bench.user.selectOptions(screen.getByLabelText('On the fold'), 'Centre front');
  const block = bench.store.getState().garment!.blocks.at(-1)!;
  expect(block.fold).toBe('centre-front');
  expect(block.edges[0]!.path).toMatchObject([{ kind: 'line', start: { x: 0, y: 0 }, end: { x: 0, y: 600 } }]);
  expect(block.notches[0]!.distance).toBeLessThanOrEqual(600);
});

test('one that leaves the straight by more than half a millimetre is not offered', () => {
  withCentre(0.6);
  expect(screen.queryByRole('option', { name: 'Centre front' })).toBeNull();
  expect(screen.getByRole('option', { name: 'Hem' })).toBeTruthy();
});
