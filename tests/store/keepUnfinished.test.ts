import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { describe, expect, it, vi } from 'vitest';
import { fail } from '../../src/geometry/outcome';
import { point } from '../../src/geometry/point';
import { withStep } from '../../src/store/draftHistory';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { must } from '../support/testStore';
import { device, draft, photo, picture, tab, top } from '../support/unfinishedTab';

const skirt = draftStraightSkirt();
const named = withStep(
  draft,
  { ...draft, corners: [{ segment: 0, t: 0, name: 'Outer', role: 'side' }] },
  'what an edge is',
);

describe('R35 what lies on the table and is no piece yet', () => {
  it('comes back as it was: a draft with its steps, pages, the pen', async () => {
    const on = device();
    const first = tab(on);
    const pages = { book: 'b', source: 'skirt.pdf', pages: [{ number: 1, shapes: draft.shapes }], places: [] };
    const pen = { nodes: [{ at: point(1, 2), handleIn: null, handleOut: null }], next: null };
    first.bringIn.actions.layDraft(named);
    first.bringIn.actions.layPages(pages as never);
    first.bringIn.actions.drawPen(pen);
    await first.keeper.flush();
    const next = tab(on);
    expect(await next.keeper.lookFor(top.id)).toEqual({ found: 'laid' });
    expect(next.lying()).toMatchObject({ draft: named, pages, pen });
    expect(next.store.getState().notice?.sentence).toContain('as you left it');
    next.bringIn.actions.drawPen({ nodes: [], next: null });
    expect(next.bringIn.actions.takeBackPoint()).toBe(true);
    expect(next.lying().draft!.corners).toEqual(draft.corners);
  });

  it('a picture’s file is stored once, and handed back byte for byte', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    const put = vi.spyOn(first.storage.unfinished, 'put');
    first.bringIn.actions.changePicture((now) => ({ ...now, chosen: 'corner-1' }));
    await first.keeper.flush();
    expect([...put.mock.calls[0]![1].keys()]).toEqual([]);
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    expect(next.lying().picture).toEqual({ ...picture, chosen: 'corner-1' });
    expect(next.files).toEqual(['photo 4 image/jpeg']);
  });

  it('belongs to its garment, and goes when it is put away or the garment is deleted', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    expect(await tab(on, skirt).keeper.lookFor(skirt.id)).toEqual({ found: 'nothing' });
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    next.bringIn.actions.clearAway();
    await next.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });

    const last = tab(on);
    last.bringIn.actions.layPicture(picture);
    await last.keeper.flush();
    must(await last.storage.deleteGarment(top.id));
    await last.storage.close();
    const shelf = await openDB(on.name);
    expect([await shelf.count('unfinished'), await shelf.count('unfinishedParts')]).toEqual([0, 0]);
    shelf.close();
  });

  it('what a garment that became a copy has on its table goes with the copy', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    first.store.actions.openGarment({ ...top, id: 'copy' });
    await first.keeper.lookFor('copy');
    await first.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
    expect(await tab(on, { ...top, id: 'copy' }).keeper.lookFor('copy')).toEqual({ found: 'laid' });
  });

  it('two tables of one garment do not overwrite each other', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const second = tab(on);
    second.bringIn.actions.layDraft({ ...draft, source: 'other.svg' });
    await second.keeper.lookFor(top.id);
    await second.keeper.flush();
    second.bringIn.actions.clearAway();
    await second.keeper.flush();
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    expect(next.lying().draft?.source).toBe('square.svg');
  });

  it('a tab that may not save the garment keeps nothing', async () => {
    const on = device();
    const second = tab(on, top, { held: () => null });
    second.bringIn.actions.layDraft(draft);
    await second.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
  });

  it('without room it says so once, goes on, and saves when there is room again', async () => {
    const on = device();
    const first = tab(on);
    const full = vi.spyOn(first.storage.unfinished, 'put').mockResolvedValue(fail('storage-full', ''));
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    expect(first.store.getState().notice?.sentence).toContain('no room');
    first.store.actions.notify(null);
    first.bringIn.actions.layDraft(named);
    await first.keeper.flush();
    expect(first.store.getState().notice).toBeNull();
    full.mockRestore();
    await first.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'laid' });
  });

  it('what cannot be read again is gone and named; what was only stopped is kept', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    const stopped = tab(on, top, { layAgain: async () => fail('cancelled', '') });
    expect(await stopped.keeper.lookFor(top.id)).toEqual({ found: 'kept' });
    expect(stopped.store.getState().notice?.sentence).toContain('It is kept');
    await stopped.storage.close();
    const shelf = await openDB(on.name);
    await shelf.clear('unfinishedParts');
    shelf.close();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'gone', lying: 'skirt.jpg' });
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
  });

  it('a page that closes puts down the last change at once', async () => {
    const on = device();
    const listeners: (() => void)[] = [];
    vi.stubGlobal('document', {
      visibilityState: 'hidden',
      addEventListener: (_: string, heard: () => void) => listeners.push(heard),
      removeEventListener: () => {},
    });
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    first.bringIn.actions.layDraft(named);
    // The database drops what a closing page writes.
    vi.spyOn(first.storage.unfinished, 'put').mockResolvedValue(fail('storage-failed', ''));
    for (const heard of listeners) heard();
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    expect(next.lying().draft).toEqual(named);
    expect([...on.box.entries.keys()]).toEqual([]);
  });

  it('a newer program’s record is left alone, and said', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const shelf = await openDB(on.name);
    const [record] = await shelf.getAll('unfinished');
    await shelf.put('unfinished', { ...record, form: record.form + 1 });
    const next = tab(on);
    expect(await next.keeper.lookFor(top.id)).toEqual({ found: 'kept' });
    expect(next.lying().draft).toBeNull();
    expect(next.store.getState().notice?.sentence).toContain('newer Hingeline');
    expect(await shelf.count('unfinished')).toBe(1);
    await shelf.put('unfinished', { ...record, form: record.form - 1 });
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'gone', lying: 'square.svg' });
    shelf.close();
  });

  it('nothing is lost when what lays it again cannot be fetched', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const offline = tab(on, top, { layAgain: () => Promise.reject(new TypeError('no network')) });
    expect(await offline.keeper.lookFor(top.id)).toEqual({ found: 'kept' });
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'laid' });
  });

  it('stopped while it was laid again, it comes back at the next start, and once more', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    for (const found of ['kept', 'kept', 'laid'] as const) {
      const next = tab(on, top, found === 'kept' ? { layAgain: async () => fail('cancelled', '') } : {});
      expect(await next.keeper.lookFor(top.id)).toEqual({ found });
      // A page that closes saves what lies there, which is nothing.
      await next.keeper.flush();
    }
  });

  it('what came to lie there while it was laid again does not push it out', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const next = tab(on, top, {
      layAgain: async () => {
        next.bringIn.actions.layDraft({ ...draft, source: 'other.svg' });
        return fail('table-taken', '');
      },
    });
    expect(await next.keeper.lookFor(top.id)).toEqual({ found: 'kept' });
    expect(next.store.getState().notice?.sentence).toMatch(/“square.svg” was not laid .* nothing else lies/);
    await next.keeper.flush();
    next.bringIn.actions.clearAway();
    await next.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'laid' });
  });

  it('a garment that left the table while its work was looked for is not spoken of', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const next = tab(on, top, {
      layAgain: async () => {
        next.store.actions.openGarment(skirt);
        return fail('table-taken', '');
      },
    });
    expect(await next.keeper.lookFor(top.id)).toEqual({ found: 'kept' });
    expect(next.store.getState().notice).toBeNull();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'laid' });
  });

  it('a write under way when the table is cleared does not bring it back', async () => {
    const on = device();
    const first = tab(on, top, {
      fileOf: () => {
        first.bringIn.actions.clearAway();
        first.store.actions.closeGarment();
        return photo;
      },
    });
    const put = vi.spyOn(first.storage.unfinished, 'put');
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    await first.keeper.flush();
    expect((await put.mock.results[0]!.value).ok).toBe(true);
    await first.storage.close();
    const shelf = await openDB(on.name);
    expect([await shelf.count('unfinished'), await shelf.count('unfinishedParts')]).toEqual([0, 0]);
    shelf.close();
  });

  it('what could not be thrown away is thrown away later', async () => {
    const on = device();
    const first = tab(on, top, { retry: 5 });
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const broken = vi.spyOn(first.storage.unfinished, 'remove').mockResolvedValue(fail('storage-failed', ''));
    first.bringIn.actions.clearAway();
    first.store.actions.closeGarment();
    await vi.waitFor(() => expect(broken).toHaveBeenCalled());
    broken.mockRestore();
    await vi.waitFor(async () => expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' }));
  });

  it.each([
    ['storage-full', 'no room'],
    ['storage-failed', 'does not let me keep'],
  ])('a save that failed with %s says %s, and is tried again by itself', async (code, said) => {
    const on = device();
    const first = tab(on, top, { retry: 5 });
    const full = vi.spyOn(first.storage.unfinished, 'put').mockResolvedValue(fail(code, ''));
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    expect(first.store.getState().notice?.sentence).toContain(said);
    full.mockRestore();
    const put = vi.spyOn(first.storage.unfinished, 'put');
    await vi.waitFor(() => expect(put).toHaveBeenCalled());
    await first.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'laid' });
  });

  it('a page that closes with a file not stored yet leaves what was kept before as it is', async () => {
    const on = device();
    const listeners: (() => void)[] = [];
    vi.stubGlobal('document', {
      visibilityState: 'hidden',
      addEventListener: (_: string, heard: () => void) => listeners.push(heard),
      removeEventListener: () => {},
    });
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    vi.spyOn(first.storage.unfinished, 'put').mockResolvedValue(fail('storage-failed', ''));
    first.bringIn.actions.changePicture((now) => ({
      ...now,
      parts: [...now.parts, { ...now.parts[0]!, id: 'second' }],
    }));
    for (const heard of listeners) heard();
    await first.keeper.flush();
    const next = tab(on);
    expect(await next.keeper.lookFor(top.id)).toEqual({ found: 'laid' });
    expect(next.lying().picture).toEqual(picture);
  });

  it('a file that came to nothing is told, as it could not be laid again', async () => {
    const on = device();
    const first = tab(on, top, { fileOf: () => new Blob() });
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    expect(first.store.getState().notice?.tone).toBe('warning');
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
  });

  it('each thing that lies there is saved when it alone changes, and nothing is written when nothing changed', async () => {
    const on = device();
    const first = tab(on);
    const put = vi.spyOn(first.storage.unfinished, 'put');
    const flat = { id: 'flat', origin: point(0, 0), dotsPerMm: 1, width: 2, height: 2 };
    const piece = first.store.getState().garment!.blocks.find(({ locked }) => !locked)?.id;
    const set = (state: object) => first.bringIn.setState(state);
    for (const state of [
      { pages: { source: 'a.pdf' } },
      { pages: { source: 'b.pdf' } },
      { underlay: { flat, piece, picture } },
      { underlay: { flat: { ...flat, width: 3 }, piece, picture } },
      { picture },
      { draft },
      { pen: { nodes: [{ at: point(0, 0), handleIn: null, handleOut: null }], next: null } },
    ]) {
      set(state);
      await first.keeper.flush();
    }
    expect(put).toHaveBeenCalledTimes(7);
    set({ hover: 1, inset: null });
    await first.keeper.flush();
    expect(put).toHaveBeenCalledTimes(7);
  });

  it('what changes while it is being written is written after it', async () => {
    const on = device();
    const first = tab(on, top, {
      delay: 5,
      fileOf: () => {
        first.bringIn.actions.layDraft(draft);
        return photo;
      },
    });
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    await vi.waitFor(async () => {
      const next = tab(on);
      await next.keeper.lookFor(top.id);
      expect(next.lying().draft).toEqual(draft);
    });
  });

  it('a picture under a piece comes back with its file until the piece is locked or gone', async () => {
    const on = device();
    const block = { ...top.blocks[0]!, locked: false };
    const open = { ...top, blocks: [block, ...top.blocks.slice(1)] };
    const flat = { id: 'flat', origin: point(0, 0), dotsPerMm: 1, width: 2, height: 2 };
    const book = { id: 'book', source: 'scan.pdf', pages: [1, 2] };
    const first = tab(on, open);
    const lay = async (piece: string) => {
      first.bringIn.setState({ underlay: { flat, piece, picture: { ...picture, book } } });
      await first.keeper.flush();
    };
    await lay(block.id);
    const next = tab(on, open);
    expect(await next.keeper.lookFor(top.id)).toEqual({ found: 'laid' });
    expect(next.files).toEqual(['book 4 image/jpeg', 'photo 4 image/jpeg']);
    expect(next.store.getState().notice).toBeNull();
    const locked = { ...open, blocks: [{ ...block, locked: true }, ...top.blocks.slice(1)] };
    expect(await tab(on, locked).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
    await lay('no such piece');
    expect(await tab(on, open).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
  });

  it('nothing is kept for a garment while another is on the table', async () => {
    const on = device();
    const first = tab(on, skirt, { held: () => top.id });
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
  });

  it('a second lack of room is told again after saving went well between', async () => {
    const first = tab(device());
    const put = vi.spyOn(first.storage.unfinished, 'put');
    for (const name of ['One', 'Two']) {
      put.mockResolvedValueOnce(fail('storage-full', ''));
      first.bringIn.actions.layDraft({ ...draft, name });
      await first.keeper.flush();
      expect(first.store.getState().notice?.sentence).toContain('no room');
      first.store.actions.notify(null);
      await first.keeper.flush();
    }
  });

  it('a file that can be read no more takes its record with it, and so does a lost part', async () => {
    const on = device();
    const keep = async () => {
      const first = tab(on);
      first.bringIn.actions.layDraft(draft);
      await first.keeper.flush();
    };
    await keep();
    const damaged = tab(on, top, { layAgain: async () => fail('picture-damaged', '') });
    expect(await damaged.keeper.lookFor(top.id)).toEqual({ found: 'gone', lying: 'square.svg' });
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
    await keep();
    const shelf = await openDB(on.name);
    await shelf.clear('unfinishedParts');
    shelf.close();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'gone', lying: 'square.svg' });
  });

  it('what was laid again is written again only where it changes', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const next = tab(on);
    await next.keeper.lookFor(top.id);
    const put = vi.spyOn(next.storage.unfinished, 'put');
    next.bringIn.actions.layDraft({ ...next.lying().draft!, name: 'Later' });
    await next.keeper.flush();
    expect([...put.mock.calls[0]![1].keys()]).toEqual([]);
    // Held once more, it is the same record still.
    await next.keeper.lookFor(top.id);
    await next.keeper.flush();
    expect(must(await next.storage.unfinished.list(top.id))).toHaveLength(1);
  });
});
