import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { describe, expect, it } from 'vitest';
import { device, draft, picture, tab, top } from '../support/unfinishedTab';

describe('R35 two tabs with the same garment', () => {
  /** The first tab keeps a draft, then the second takes the garment over and lays it too. */
  async function takenOver() {
    const on = device();
    let holder = 1;
    const first = tab(on, top, { held: () => (holder === 1 ? top.id : null) });
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    holder = 2;
    const second = tab(on, top, { held: () => (holder === 2 ? top.id : null) });
    expect(await second.keeper.lookFor(top.id)).toEqual({ found: 'laid' });
    const back = async () => {
      holder = 1;
      await first.keeper.lookFor(top.id);
      await first.keeper.flush();
    };
    const stored = async () => {
      const next = tab(on);
      await next.keeper.lookFor(top.id);
      return next.lying().draft?.name ?? null;
    };
    return { on, first, second, back, stored };
  }

  it('what the tab that lost it puts away stays for the one that goes on with it', async () => {
    const { first, stored } = await takenOver();
    first.bringIn.actions.clearAway();
    await first.keeper.flush();
    expect(await stored()).toBe('Square');
  });

  it('nothing is kept twice when the other tab changed nothing', async () => {
    const { on, first, back, stored } = await takenOver();
    await back();
    first.bringIn.actions.layDraft({ ...draft, name: 'Later' });
    await first.keeper.flush();
    expect(await stored()).toBe('Later');
    const shelf = await openDB(on.name);
    expect(await shelf.count('unfinished')).toBe(1);
    shelf.close();
  });

  it('what the other tab finished is kept whole where it lies still', async () => {
    const { first, second, back, stored } = await takenOver();
    second.bringIn.actions.clearAway();
    await second.keeper.flush();
    expect(await stored()).toBeNull();
    await back();
    expect(await stored()).toBe('Square');
    first.bringIn.actions.clearAway();
    await first.keeper.flush();
    expect(await stored()).toBeNull();
  });

  it('what the other tab changed is not written over, and is told', async () => {
    const { first, second, back, stored } = await takenOver();
    second.bringIn.actions.layDraft({ ...draft, name: 'Of the second' });
    await second.keeper.flush();
    await back();
    expect(first.store.getState().notice?.sentence).toContain('nothing else lies on the table');
    expect(await stored()).toBe('Square');
    first.bringIn.actions.clearAway();
    await first.keeper.flush();
    expect(await stored()).toBe('Of the second');
  });

  it('a table of its own is kept beside the one that was left, and that is told at once', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layDraft(draft);
    await first.keeper.flush();
    const second = tab(on);
    second.bringIn.actions.layDraft({ ...draft, source: 'other.svg' });
    expect(await second.keeper.lookFor(top.id)).toEqual({ found: 'nothing' });
    expect(second.store.getState().notice?.sentence).toContain('“square.svg” was not laid on the table. It is kept');
  });

  it('parts that were removed behind its back are written again', async () => {
    const on = device();
    const first = tab(on);
    first.bringIn.actions.layPicture(picture);
    await first.keeper.flush();
    const shelf = await openDB(on.name);
    await shelf.clear('unfinished');
    await shelf.clear('unfinishedParts');
    shelf.close();
    first.bringIn.actions.changePicture((now) => ({ ...now, chosen: 'corner-1' }));
    await first.keeper.flush();
    expect(await tab(on).keeper.lookFor(top.id)).toEqual({ found: 'laid' });
  });

  it('a tab that laid what was left goes on with the same record, and a picture under a piece is not told', async () => {
    const { on, second } = await takenOver();
    await second.keeper.lookFor(top.id);
    second.bringIn.actions.layDraft({ ...draft, name: 'Later' });
    await second.keeper.flush();
    expect(second.store.getState().notice?.tone).toBe('done');
    const shelf = await openDB(on.name);
    const [record, ...others] = await shelf.getAll('unfinished');
    expect(others).toEqual([]);
    await shelf.put('unfinished', { ...record, id: 'under', lying: null });
    shelf.close();
    await second.keeper.lookFor(top.id);
    expect(second.store.getState().notice?.tone).toBe('done');
  });
});
