import { afterEach, vi } from 'vitest';
import { succeed } from '../../src/geometry/outcome';
import { point } from '../../src/geometry/point';
import { line } from '../../src/geometry/segment';
import { openStorage } from '../../src/storage/storage';
import { type BringInDraft, createBringInStore } from '../../src/store/bringIn';
import { type KeepUnfinishedOptions, keepUnfinished, type UnfinishedKeeper } from '../../src/store/keepUnfinished';
import { startPicture } from '../../src/store/pictureDraft';
import { createAppStore } from '../../src/store/store';
import { draftSleevelessTop } from './drafting/sleevelessTop';
import { createFakeBox } from './fakeBox';

export const top = draftSleevelessTop();

const square = [
  line(point(0, 0), point(0, 100)),
  line(point(0, 100), point(100, 100)),
  line(point(100, 100), point(100, 0)),
  line(point(100, 0), point(0, 0)),
];
export const draft: BringInDraft = {
  source: 'square.svg',
  name: 'Square',
  shapes: [{ id: 'a', name: 'Square', path: square, closed: true }],
  outline: 'a',
  path: square,
  corners: [{ segment: 0, t: 0, name: 'Side', role: 'side' }],
  scale: { kind: 'certain', sentence: '' },
};
export const picture = startPicture({
  id: 'photo',
  source: 'skirt.jpg',
  width: 400,
  height: 300,
  stated: null,
  sheets: [],
  beside: { kind: 'a4', width: 210, height: 297 },
  corners: [point(1, 1), point(10, 1), point(10, 10), point(1, 10)],
  straight: null,
});
export const photo = new File([new Uint8Array([1, 2, 3, 4])], 'skirt.jpg', { type: 'image/jpeg' });

let databases = 0;
// One clock for all tabs.
let seconds = 0;
const keepers: UnfinishedKeeper[] = [];
afterEach(() => {
  for (const keeper of keepers.splice(0)) keeper.stop();
  vi.unstubAllGlobals();
});

export function device() {
  databases += 1;
  return { name: `unfinished-${databases}`, box: createFakeBox() };
}

/** A tab that holds the garment, on a device others may use too. */
export function tab(on: ReturnType<typeof device>, garment = top, options: Partial<KeepUnfinishedOptions> = {}) {
  const storage = openStorage(on);
  const store = createAppStore();
  const bringIn = createBringInStore();
  store.actions.openGarment(garment);
  const files: string[] = [];
  const keeper = keepUnfinished(store, bringIn, {
    shelf: storage.unfinished,
    held: () => store.getState().garment?.id ?? null,
    fileOf: () => photo,
    layAgain: async (lying, found) => {
      for (const [id, file] of found) files.push(`${id} ${(await file.arrayBuffer()).byteLength} ${file.type}`);
      bringIn.actions.layAgain(lying);
      return succeed(null);
    },
    delay: 10_000,
    now: () => new Date(Date.UTC(2030, 0, 1, 0, 0, ++seconds)).toISOString(),
    ...options,
  });
  keepers.push(keeper);
  return { storage, store, bringIn, keeper, files, lying: () => bringIn.getState() };
}
