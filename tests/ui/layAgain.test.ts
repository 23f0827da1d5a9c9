import { describe, expect, test } from 'vitest';
import { fail, type Outcome, succeed } from '../../src/geometry/outcome';
import { point } from '../../src/geometry/point';
import { stayPut, turnAbout } from '../../src/geometry/rigidMove';
import { createBringInStore, noPen } from '../../src/store/bringIn';
import { type FlatLaid, type PictureDraft, type PicturePart, startPicture } from '../../src/store/pictureDraft';
import { createAppStore } from '../../src/store/store';
import type { Lying } from '../../src/store/unfinishedForm';
import { fetchAndLayAgain } from '../../src/ui/bringin/fetchAndLayAgain';
import { layAgain } from '../../src/ui/bringin/layAgain';
import { fileOf } from '../../src/ui/bringin/photo/pictureFiles';
import type { PhotoHelper } from '../../src/workers/photoHelper';
import type { PhotoAsk } from '../../src/workers/photoMessages';
import { sampleGarment } from '../support/uiHarness';

const flat = (id: string): FlatLaid => ({ id, origin: point(0, 0), dotsPerMm: 2, width: 20, height: 10 });
const turned = turnAbout(point(0, 0), 0.5);

function part(id: string, move = stayPut): PicturePart {
  const view = { width: 4, height: 3, lens: 0, homography: [1, 0, 0, 0, 1, 0, 0, 0, 1] as const };
  return {
    id,
    source: `${id}.jpg`,
    width: 4,
    height: 3,
    stated: null,
    sheets: [],
    beside: { kind: 'scan', across: 4, down: 4 },
    corners: [],
    straight: {
      reference: { kind: 'scan', mmPerDotX: 0.25, mmPerDotY: 0.25 },
      straightened: { view } as never,
      flat: flat(`flat of ${id}`),
      move,
      checks: [],
    },
  };
}

const joined: PictureDraft = {
  ...startPicture(part('a')),
  stage: 'outline',
  parts: [part('a'), part('b', turned)],
  flat: flat('both'),
};
const lying = (picture: PictureDraft | null): Lying => ({
  draft: null,
  pen: noPen,
  pages: null,
  picture,
  underlay: null,
});
const files = new Map(['a', 'b'].map((id) => [id, new Blob([id])] as const));

/** A worker that says what it was asked for: a letter for the picture opened, letters with their turns for those joined. */
function worker(answer: (ask: PhotoAsk) => Outcome<unknown> | null = () => null) {
  const asked: string[] = [];
  const shown = { full: null, small: null };
  const photos = {
    ask: async (ask: PhotoAsk) => {
      const given = answer(ask);
      if (given !== null) return given;
      if (ask.kind === 'open') {
        asked.push(`open ${await ask.picture.file.text()}`);
        return succeed({ kind: 'open', width: 4, height: 3, stated: null, sheets: [], shown });
      }
      const parts = 'parts' in ask ? ask.parts : [];
      asked.push(`${ask.kind} ${parts.map(({ picture, move }) => picture.id + (move.cos < 1 ? '*' : '')).join('')}`);
      return succeed({ kind: 'join', origin: point(-5, -6), dotsPerMm: 2, width: 20, height: 10, shown });
    },
    stop: () => undefined,
  } as unknown as PhotoHelper;
  return { photos, asked };
}

function table() {
  const store = createAppStore();
  store.actions.openGarment(sampleGarment('straight-skirt'));
  return { store, bringIn: createBringInStore() };
}

describe('R35 a table laid again', () => {
  test('pictures that were joined are straightened each by itself, then joined as they lay', async () => {
    const { store, bringIn } = table();
    const { photos, asked } = worker();
    expect((await layAgain(lying(joined), files, store, { bringIn, photos })).ok).toBe(true);
    expect(asked).toEqual(['open a', 'join a', 'open b', 'join b', 'join ab*']);
    const laid = bringIn.getState().picture!;
    expect(laid.flat).toEqual({ ...flat('both'), origin: point(-5, -6) });
    expect(laid.parts.map(({ straight }) => straight!.flat.id)).toEqual(['flat of a', 'flat of b']);
    expect({ ...laid, flat: null, parts: [] }).toEqual({ ...joined, flat: null, parts: [] });
    expect(bringIn.getState().work).toBeNull();
  });

  test('a picture that is still to be joined lies by itself, beside those joined before it', async () => {
    const { store, bringIn } = table();
    const { photos, asked } = worker();
    const joining: PictureDraft = { ...joined, stage: 'join', parts: [part('a'), part('c', turned), part('b')] };
    await layAgain(lying(joining), new Map([...files, ['c', new Blob(['c'])]]), store, { bringIn, photos });
    expect(asked.at(-1)).toBe('join ac*');
  });

  test('a picture under a piece lets go of its file once it is taken away', async () => {
    const { store, bringIn } = table();
    const underlay = { flat: flat('both'), piece: 'p', picture: joined };
    await layAgain({ ...lying(null), underlay }, files, store, { bringIn, ...worker() });
    expect(bringIn.getState().underlay!.flat.origin).toEqual(point(-5, -6));
    expect(fileOf('a').size).toBe(1);
    bringIn.actions.clearAway();
    expect(fileOf('a').size).toBe(0);
  });

  test('stopped, or with something else on the table by then, it leaves everything as it was', async () => {
    const { store, bringIn } = table();
    const stopped = worker(({ kind }) => (kind === 'join' ? fail('cancelled', 'Stopped.') : null));
    expect(await layAgain(lying(joined), files, store, { bringIn, ...stopped })).toMatchObject({ code: 'cancelled' });
    expect(bringIn.getState().picture).toBeNull();
    expect(fileOf('a').size).toBe(0);
    const pen = { nodes: [{ at: point(1, 1), handleIn: null, handleOut: null }], next: null };
    const busy = worker(() => {
      bringIn.actions.drawPen(pen);
      return null;
    });
    expect(await layAgain(lying(joined), files, store, { bringIn, ...busy })).toMatchObject({ code: 'table-taken' });
    expect(bringIn.getState()).toMatchObject({ picture: null, pen });
    expect(fileOf('a').size).toBe(0);
  });

  test('with another garment on the table by then, nothing is laid', async () => {
    const { store, bringIn } = table();
    const other = worker(() => {
      store.actions.openGarment({ ...sampleGarment('straight-skirt'), id: 'other' });
      return null;
    });
    expect(await layAgain(lying(joined), files, store, { bringIn, ...other })).toMatchObject({ code: 'table-taken' });
    expect(bringIn.getState().picture).toBeNull();
  });

  test('an outline half drawn has the pen in hand', async () => {
    const { store, bringIn } = table();
    const pen = { nodes: [{ at: point(1, 1), handleIn: null, handleOut: null }], next: null };
    await layAgain({ ...lying(null), pen }, new Map(), store, { bringIn, ...worker() });
    expect(bringIn.getState().pen).toEqual(pen);
    expect(store.getState()).toMatchObject({ place: 'bring-in', tool: 'pen' });
  });

  test('is said from the first moment while a picture has to be read, and what reads it is fetched', async () => {
    const { store, bringIn } = table();
    let given: Outcome<null> = succeed(null);
    const laid: Lying[] = [];
    const fetched = async () => ({
      layAgain: async (table: Lying) => {
        laid.push(table);
        return given;
      },
    });
    const lay = (what: Lying) => fetchAndLayAgain(what, files, store, bringIn, fetched);
    const laying = lay(lying(joined));
    expect(bringIn.getState().work).toMatchObject({ doing: 'Laying the table as you left it', atOnce: true });
    expect(await laying).toEqual(given);
    expect(bringIn.getState().work).toBeNull();
    given = fail('picture-no-room', '');
    const plain = lay({ ...lying(null), pages: {} as never });
    expect(bringIn.getState().work?.atOnce).toBe(false);
    expect(await plain).toEqual(given);
    const stopped = lay(lying(joined));
    bringIn.getState().work!.stop();
    expect(bringIn.getState().work).toBeNull();
    expect(await stopped).toMatchObject({ code: 'cancelled' });
    expect(laid).toHaveLength(2);
    const offline = fetchAndLayAgain(lying(joined), files, store, bringIn, () => Promise.reject(new TypeError()));
    await expect(offline).rejects.toThrow();
    expect(bringIn.getState().work).toBeNull();
  });
});
