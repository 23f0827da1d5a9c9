import { readFileSync } from 'node:fs';
import { act, fireEvent, screen, waitFor } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { writeProject } from '../../src/exchange/project/projectFile';
import { withStep } from '../../src/store/draftHistory';
import { Workbench } from '../../src/ui/bench/Workbench';
import { openFile } from '../../src/ui/bringin/fileDoor';
import { type Bench, renderOnBench, sampleGarment } from '../support/uiHarness';

const svg = (name: string) => new File([readFileSync('tests/fixtures/svg/skirt-mm.svg')], name);

async function withDrawing(): Promise<Bench> {
  const bench = renderOnBench(<Workbench />);
  await act(async () => {
    expect(await openFile(svg('first.svg'), bench.store, bench.workshop)).toMatchObject({ ok: true });
  });
  return bench;
}

function drop(file: File): void {
  const event = new Event('drop', { bubbles: true, cancelable: true });
  Object.assign(event, { dataTransfer: { types: ['Files'], files: [file] } });
  fireEvent(window, event);
}

const sourceOf = ({ bringIn }: Bench) => bringIn.getState().draft?.source;

describe('work that is not a piece yet', () => {
  test('stays when another file is dropped, until the maker says otherwise', async () => {
    const bench = await withDrawing();
    drop(svg('second.svg'));
    expect(await screen.findByText('“first.svg” is not a piece yet')).toBeTruthy();
    await bench.user.click(screen.getByRole('button', { name: 'Keep at it' }));
    expect(screen.queryByText('“first.svg” is not a piece yet')).toBeNull();
    expect(sourceOf(bench)).toBe('first.svg');

    drop(svg('second.svg'));
    await bench.user.click(await screen.findByRole('button', { name: 'Open the other file' }));
    await waitFor(() => expect(sourceOf(bench)).toBe('second.svg'));
  });

  test('is asked about before the garment is left, and does not turn up in the next one', async () => {
    const bench = await withDrawing();
    const leave = async () => {
      await bench.user.click(screen.getByRole('button', { name: /^Garment: / }));
      await bench.user.click(screen.getByRole('menuitem', { name: 'Open another garment' }));
    };
    await leave();
    await bench.user.click(screen.getByRole('button', { name: 'Keep at it' }));
    expect(bench.store.getState().garment).not.toBeNull();
    expect(sourceOf(bench)).toBe('first.svg');
    await leave();
    await bench.user.click(screen.getByRole('button', { name: 'Leave this garment' }));
    await waitFor(() => expect(bench.store.getState().garment).toBeNull());
    expect(bench.bringIn.getState()).toMatchObject({ draft: null, pages: null, picture: null, underlay: null });
  });

  test('a garment whose changes could not be kept is left only when the maker says so', async () => {
    const bench = renderOnBench(<Workbench />);
    const leave = async () => {
      await bench.user.click(screen.getByRole('button', { name: /^Garment: / }));
      await bench.user.click(screen.getByRole('menuitem', { name: 'Open another garment' }));
    };
    act(() => {
      bench.store.commands.renameGarment('Sunday top');
      bench.store.actions.markSaved('failed');
    });
    await leave();
    const asked = await screen.findByRole('dialog', { name: '“Sunday top” is not kept' });
    expect(asked.textContent).toContain('would be lost');
    await bench.user.click(screen.getByRole('button', { name: 'Keep at it' }));
    expect(bench.store.getState().garment!.name).toBe('Sunday top');
    const other = new File([writeProject({ ...sampleGarment('straight-skirt'), name: 'Other' })], 'other.json');
    drop(other);
    await bench.user.click(await screen.findByRole('button', { name: 'Keep at it' }));
    expect(bench.store.getState().garment!.name).toBe('Sunday top');
    await leave();
    await bench.user.click(screen.getByRole('button', { name: 'Leave this garment' }));
    await waitFor(() => expect(bench.store.getState().garment).toBeNull());
  });

  test('an empty table asks nothing', async () => {
    const bench = renderOnBench(<Workbench />);
    drop(svg('second.svg'));
    await waitFor(() => expect(sourceOf(bench)).toBe('second.svg'));
  });

  test('undo at the top takes back the move of a point, not a step of the garment', async () => {
    const bench = await withDrawing();
    const { past } = bench.store.getState();
    const draft = bench.bringIn.getState().draft!;
    act(() => bench.bringIn.actions.layDraft(withStep(draft, { ...draft, path: [] }, 'the last move of a point')));
    await bench.user.click(screen.getByRole('button', { name: 'Undo: the last move of a point' }));
    expect(bench.bringIn.getState().draft!.path).toEqual(draft.path);
    expect(bench.store.getState().past).toBe(past);
  });
});
