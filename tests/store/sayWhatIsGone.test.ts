import { describe, expect, test } from 'vitest';
import { createBringInStore } from '../../src/store/bringIn';
import { sayWhatIsGone } from '../../src/store/sayWhatIsGone';
import { createAppStore } from '../../src/store/store';

/** A tab's memory as browsers have it. */
function memory(): Storage {
  const kept = new Map<string, string>();
  return {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
    clear: () => kept.clear(),
    key: () => null,
    length: 0,
  };
}

function start(tab: Storage | null) {
  const store = createAppStore();
  const bringIn = createBringInStore();
  const { say, sentence } = sayWhatIsGone(store, bringIn, tab);
  return { store, bringIn, say, sentence, pages: (source: string) => bringIn.actions.layPages({ source } as never) };
}

const nothing = { found: 'nothing' } as const;

describe('R35 what could not be kept when the page is loaded anew', () => {
  test('is named by the next start, once, and only until something new lies there', () => {
    const tab = memory();
    start(tab).pages('skirt.pdf');
    const next = start(tab);
    expect(next.store.getState().notice).toBeNull();
    next.say(nothing);
    expect(next.store.getState().notice?.sentence).toContain('“skirt.pdf” was not a piece yet');
    next.pages('top.pdf');
    expect(next.store.getState().notice).toBeNull();
    next.bringIn.actions.clearAway();
    const last = start(tab);
    last.say(nothing);
    expect(last.store.getState().notice).toBeNull();
  });

  test('what was laid again, or is kept, is not called gone when the next garment has nothing on its table', () => {
    for (const found of ['laid', 'kept'] as const) {
      const tab = memory();
      start(tab).pages('skirt.pdf');
      const next = start(tab);
      next.say({ found });
      next.say(nothing);
      expect(next.store.getState().notice).toBeNull();
    }
  });

  test('a damaged record names what lay there, and a start without a garment has the sentence to itself', () => {
    const other = start(memory());
    other.say({ found: 'gone', lying: 'top.pdf' });
    expect(other.store.getState().notice?.sentence).toContain('“top.pdf”');
    const tab = memory();
    start(tab).pages('skirt.pdf');
    const bare = start(tab);
    expect(bare.sentence()).toContain('“skirt.pdf” was not a piece yet');
    expect(bare.sentence()).toBeNull();
    bare.say(nothing);
    expect(bare.store.getState().notice).toBeNull();
  });

  test('a browser that keeps nothing says nothing', () => {
    const { store, pages, say } = start(null);
    pages('skirt.pdf');
    say(nothing);
    expect(store.getState().notice).toBeNull();
  });
});
