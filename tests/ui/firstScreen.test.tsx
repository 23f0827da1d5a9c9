import { screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { writeProject } from '../../src/exchange/project/projectFile';
import type { Storage } from '../../src/storage/storage';
import type { Autosave } from '../../src/store/autosave';
import { DeskContext } from '../../src/ui/deskContext';
import { Start } from '../../src/ui/start/Start';
import { type Bench, renderOnBench, type SampleName, sampleGarment, sampleText } from '../support/uiHarness';

beforeEach(() => {
  vi.stubGlobal('fetch', async (address: string) => {
    const name = /samples\/(.*)\.json$/.exec(address)?.[1];
    return new Response(sampleText(name as SampleName));
  });
});
afterEach(() => vi.unstubAllGlobals());

let deleted: string[] = [];
let putAside: { key: number; garment: string; kept: string; text: string }[] = [];
beforeEach(() => {
  deleted = [];
  putAside = [];
});

const kept = { ...sampleGarment('straight-skirt'), id: 'kept', name: 'Sunday skirt' };

function start(complaint: string | null = null): Bench {
  const storage = {
    listGarments: async () => ({
      ok: true,
      value: [
        { id: 'kept', name: 'Sunday skirt', saved: '2030-05-04T10:00:00Z', pieces: 2, versions: 0, damaged: false },
      ],
    }),
    listKept: async () => ({ ok: true, value: putAside }),
    deleteKept: async (key: number) => {
      deleted.push(`kept ${key}`);
      return { ok: true, value: undefined };
    },
    loadGarment: async () => ({ ok: true, value: kept }),
    deleteGarment: async (id: string) => {
      deleted.push(id);
      return { ok: true, value: undefined };
    },
  } as unknown as Storage;
  return renderOnBench(
    <DeskContext value={{ storage, autosave: {} as Autosave }}>
      <Start complaint={complaint} />
    </DeskContext>,
    null,
  );
}

const picker = () => document.querySelector<HTMLInputElement>('input[accept*=".svg"]')!;

const chooseFile = async (bench: Bench, name: string, text: string) =>
  bench.user.upload(picker(), new File([text], name));

describe('the first screen', () => {
  test('offers two samples, a photograph or scan, a file, an empty sheet and what was kept', async () => {
    start();
    expect(screen.getByRole('button', { name: /Sleeveless top/ })).toBeTruthy();
    expect(screen.getByRole('button', { name: /Straight skirt/ })).toBeTruthy();
    expect(screen.getByRole('button', { name: /Open a file/ })).toBeTruthy();
    // The picker behind that button is not to be read out as a second one.
    expect(picker().hidden).toBe(true);
    expect(screen.getByRole('button', { name: /Empty sheet/ })).toBeTruthy();
    expect(await screen.findByRole('button', { name: /^Sunday skirt/ })).toBeTruthy();
    expect(screen.getByRole('button', { name: /^Photograph or scan/ })).toBeTruthy();
  });

  test('the sample top opens at Fan with its block on the table', async () => {
    const bench = start();
    await bench.user.click(screen.getByRole('button', { name: /Sleeveless top/ }));
    await waitFor(() => expect(bench.store.getState().garment?.name).toBe('Sleeveless top'));
    expect(bench.store.getState()).toMatchObject({ place: 'fan', activePiece: 'front', activeVersion: null });
  });

  test('a garment kept on this device is opened again', async () => {
    const bench = start();
    await bench.user.click(await screen.findByRole('button', { name: /^Sunday skirt/ }));
    await waitFor(() => expect(bench.store.getState().garment).toEqual(kept));
  });

  test('a kept garment is deleted only after asking', async () => {
    const bench = start();
    const pick = async (choice: string) => {
      await bench.user.click(await screen.findByRole('button', { name: 'More for Sunday skirt' }));
      await bench.user.click(screen.getByRole('menuitem', { name: 'Delete…' }));
      await bench.user.click(screen.getByRole('button', { name: choice }));
    };
    await pick('Keep it');
    expect(deleted).toEqual([]);
    await pick('Delete for good');
    await waitFor(() => expect(deleted).toEqual(['kept']));
    await waitFor(() => expect(screen.queryByText('Sunday skirt')).toBeNull());
  });

  test('a project file is opened', async () => {
    const bench = start();
    await chooseFile(bench, 'skirt.hingeline.json', writeProject(kept));
    await waitFor(() => expect(bench.store.getState().garment).toEqual(kept));
  });

  test('an SVG is laid down to be brought in', async () => {
    const bench = start();
    await chooseFile(
      bench,
      'yoke_front.svg',
      '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100"><path d="M10 10H150V80H10Z"/></svg>',
    );
    await waitFor(() => expect(bench.bringIn.getState().draft).not.toBeNull());
    expect(bench.store.getState()).toMatchObject({ place: 'bring-in', garment: { name: 'Yoke front', blocks: [] } });
    expect(bench.bringIn.getState().draft).toMatchObject({ scale: { kind: 'certain' }, name: 'Yoke front' });
  });

  test('a file that is neither is refused with a sentence, and the first screen stays', async () => {
    const bench = start();
    await chooseFile(bench, 'letter.svg', 'Dear maker');
    expect((await screen.findByRole('alert')).textContent).toContain('not an SVG drawing');
    expect(bench.store.getState().garment).toBeNull();
  });

  test('an empty sheet puts the pen in hand', async () => {
    const bench = start();
    await bench.user.click(screen.getByRole('button', { name: /Empty sheet/ }));
    expect(bench.store.getState()).toMatchObject({ place: 'bring-in', tool: 'pen', garment: { blocks: [] } });
  });

  test('says why the last session did not come back', () => {
    start('The saved garment cannot be opened.');
    expect(screen.getByRole('alert').textContent).toContain('cannot be opened');
  });

  test('a damaged record that was put aside can be taken out as a file, and goes only when the maker says so', async () => {
    putAside = [{ key: 7, garment: 'top', kept: '2030-05-04T10:00:00Z', text: '{"format": "cut sh' }];
    const made: Blob[] = [];
    const create = vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
      made.push(blob as Blob);
      return 'blob:kept';
    });
    const bench = start();
    await bench.user.click(await screen.findByText('A damaged record is kept'));
    await bench.user.click(screen.getByRole('button', { name: /^Save the record of .* as a file$/ }));
    expect(await made[0]!.text()).toBe('{"format": "cut sh');
    create.mockRestore();
    await bench.user.click(screen.getByRole('button', { name: /^Throw the record of .* away…$/ }));
    await bench.user.click(screen.getByRole('button', { name: 'Keep it' }));
    expect(deleted).toEqual([]);
    await bench.user.click(screen.getByRole('button', { name: /^Throw the record of .* away…$/ }));
    await bench.user.click(screen.getByRole('button', { name: 'Throw it away for good' }));
    await waitFor(() => expect(screen.queryByText('A damaged record is kept')).toBeNull());
    expect(deleted).toEqual(['kept 7']);
  });
});
