import { act, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { HistoryButtons } from '../../src/ui/bench/HistoryButtons';
import { UnitSwitch } from '../../src/ui/bench/UnitSwitch';
import { FanPlace } from '../../src/ui/places/FanPlace';
import { useBringInStore } from '../../src/ui/storeContext';
import { useShortcuts } from '../../src/ui/useShortcuts';
import { renderOnBench } from '../support/uiHarness';

function Part() {
  useShortcuts(useBringInStore().actions.takeBackPoint);
  return (
    <>
      <HistoryButtons />
      <UnitSwitch />
      <FanPlace />
    </>
  );
}

describe('undo and redo', () => {
  test.each([
    ['{Control>}z{/Control}', '{Control>}y{/Control}'],
    ['{Control>}z{/Control}', '{Control>}{Shift>}z{/Shift}{/Control}'],
    ['{Meta>}z{/Meta}', '{Meta>}{Shift>}z{/Shift}{/Meta}'],
  ])('go by %s and %s', async (undo, redo) => {
    const { store, user } = renderOnBench(<Part />);
    const before = store.getState().garment;
    act(() => void store.commands.startVersion('Swing'));
    const after = store.getState().garment;
    await user.keyboard(undo);
    expect(store.getState().garment).toBe(before);
    await user.keyboard(redo);
    expect(store.getState().garment).toBe(after);
  });

  test('belong to the text while a length is being typed', async () => {
    const { store, user } = renderOnBench(<Part />);
    await user.click(screen.getByRole('button', { name: 'Place the fan' }));
    const steps = store.getState().past.length;
    const field = screen.getByLabelText('Opening, each');
    await user.type(field, '2');
    await user.keyboard('{Control>}z{/Control}');
    expect(store.getState().past).toHaveLength(steps);
  });

  test('while the pen draws, undo takes back one point', async () => {
    const { store, bringIn, user } = renderOnBench(<Part />);
    act(() => void store.commands.startVersion('Swing'));
    const corner = { at: { x: 0, y: 0 }, handleIn: null, handleOut: null };
    bringIn.actions.drawPen({ nodes: [corner, { ...corner, at: { x: 10, y: 0 } }], next: null });
    await user.keyboard('{Control>}z{/Control}');
    expect(bringIn.getState().pen.nodes).toHaveLength(1);
    expect(store.getState().past).toHaveLength(1);
  });

  test('have buttons that say what they would do', async () => {
    const { store, user } = renderOnBench(<Part />);
    expect(screen.getByRole<HTMLButtonElement>('button', { name: 'Undo' }).disabled).toBe(true);
    act(() => void store.commands.startVersion('Swing'));
    const label = store.getState().past.at(-1)!.label;
    await user.click(screen.getByRole('button', { name: `Undo: ${label}` }));
    expect(store.getState().garment?.versions).toHaveLength(0);
    await user.click(screen.getByRole('button', { name: `Redo: ${label}` }));
    expect(store.getState().garment?.versions).toHaveLength(1);
  });
});

describe('the unit switch', () => {
  test('is a group of radio buttons, and every field follows', async () => {
    const { store, user } = renderOnBench(<Part />);
    await user.click(screen.getByRole('button', { name: 'Place the fan' }));
    await user.click(screen.getByRole('radio', { name: 'mm' }));
    expect(store.getState().garment?.unit).toBe('mm');
    expect(screen.getByLabelText<HTMLInputElement>('Opening, each').value).toBe('38.1 mm');
  });
});
