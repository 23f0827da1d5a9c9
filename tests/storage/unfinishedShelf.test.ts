import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { openStorage } from '../../src/storage/storage';
import { createFakeBox } from '../support/fakeBox';
import { must } from '../support/testStore';

let databases = 0;
function open(box = createFakeBox()) {
  databases += 1;
  return { box, shelf: openStorage({ name: `shelf-${databases}`, box }).unfinished };
}

const record = (saved: number, parts: readonly string[], id = 'r') => ({
  id,
  garment: 'g',
  saved: `2030-01-01T00:00:0${saved}.000Z`,
  form: 1,
  lying: 'x',
  state: { saved },
  parts,
});
const parts = (...ids: readonly string[]) => new Map(ids.map((id) => [id, { is: id }]));

describe('R35 the shelf of unfinished work', () => {
  it('drops parts that are named no longer and keeps those that are', async () => {
    const { shelf } = open();
    must(await shelf.put(record(1, ['a', 'b']), parts('a', 'b')));
    must(await shelf.put(record(2, ['b', 'c']), parts('c')));
    expect([...must(await shelf.find('g'))!.parts.keys()]).toEqual(['b', 'c']);
  });

  it('a record whose parts are neither new nor stored is refused, and the one before stays whole', async () => {
    const { shelf } = open();
    must(await shelf.put(record(1, ['a']), parts('a')));
    expect(await shelf.put(record(2, ['a', 'b']), parts())).toMatchObject({ ok: false, code: 'parts-missing' });
    expect(must(await shelf.find('g'))).toEqual({ record: record(1, ['a']), parts: parts('a') });
  });

  it('what a browser cannot copy ends the whole change', async () => {
    const { shelf } = open();
    must(await shelf.put(record(1, ['a']), parts('a')));
    const unlike = new Map([['b', { draw: () => 1 }]]);
    expect((await shelf.put(record(2, ['b']), unlike)).ok).toBe(false);
    expect(must(await shelf.find('g'))).toEqual({ record: record(1, ['a']), parts: parts('a') });
    must(await shelf.put(record(3, ['a']), parts()));
  });

  it('what a closing page put down counts only where it is newer, and whole', async () => {
    const { shelf } = open();
    must(await shelf.put(record(3, ['a']), parts('a')));
    for (const [saved, ids, fresh] of [
      [2, ['a'], []],
      [4, ['a', 'b'], []],
    ] as const) {
      expect(shelf.putAtOnce(record(saved, ids), parts(...fresh))).toBe(true);
      expect(must(await shelf.find('g'))!.record.state).toEqual({ saved: 3 });
    }
    expect(shelf.putAtOnce(record(5, ['a', 'b']), parts('b'))).toBe(true);
    expect(must(await shelf.find('g'))).toEqual({ record: record(5, ['a', 'b']), parts: parts('a', 'b') });
  });

  it('what one closing page put down is not swept away by what another keeps', async () => {
    const { shelf, box } = open();
    must(await shelf.put(record(1, []), parts()));
    shelf.putAtOnce(record(2, []), parts());
    must(await shelf.put(record(3, [], 'z'), parts()));
    expect(must(await shelf.list('g')).map(({ id, state }) => [id, state])).toEqual([
      ['z', { saved: 3 }],
      ['r', { saved: 2 }],
    ]);
    expect(box.entries.size).toBe(0);
    shelf.putAtOnce(record(4, []), parts());
    must(await shelf.remove({ id: 'r', garment: 'g' }));
    expect(must(await shelf.list('g')).map(({ id }) => id)).toEqual(['z']);
  });

  it('goes with its garment, even what a closing page put down last', async () => {
    const box = createFakeBox();
    const storage = openStorage({ name: 'shelf-of-deleted', box });
    storage.unfinished.putAtOnce(record(1, []), parts());
    must(await storage.deleteGarment('g'));
    expect(must(await storage.unfinished.find('g'))).toBeNull();
  });

  it('nothing is put down where text cannot hold it', async () => {
    const { shelf, box } = open();
    expect(shelf.putAtOnce(record(1, ['a']), new Map([['a', { width: Number.POSITIVE_INFINITY }]]))).toBe(false);
    expect(shelf.putAtOnce(record(1, ['a']), new Map([['a', new ArrayBuffer(2)]]))).toBe(false);
    expect(box.entries.size).toBe(0);
  });
});
