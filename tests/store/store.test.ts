import { describe, expect, it, vi } from 'vitest';
import { fail, succeed } from '../../src/geometry/outcome';
import { reportVersion } from '../../src/measure/report';
import { setUnit } from '../../src/pattern/edits';
import type { Garment } from '../../src/pattern/garment';
import { createShown, type Report, shownNow, shownVersion } from '../../src/store/shown';
import { createAppStore } from '../../src/store/store';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { must, testStore } from '../support/testStore';

const top = draftSleevelessTop();
const inCm = (garment: Garment) => setUnit(garment, 'cm');
const renamed = (name: string) => (garment: Garment) => ({ ...garment, name });

describe('undo while a change is live', () => {
  it('R3 takes back the live change only, and a drag that goes on cannot put back what was undone', () => {
    const store = testStore(top);
    must(store.actions.commit('Rename', renamed('Tunic')));
    must(store.actions.showPreview(inCm));
    store.actions.undo();
    expect(store.getState().preview).toBeNull();
    expect(store.getState().garment!.name).toBe('Tunic');
    store.actions.redo();
    expect(store.getState().past.length).toBe(1);
    store.actions.undo();
    expect(store.getState().garment).toBe(top);
  });
});

describe('commit', () => {
  it('R3 makes one labelled step and can be undone and done again', () => {
    const store = testStore(top);
    must(store.actions.commit('Show cm', inCm));
    expect(store.getState().past).toEqual([{ label: 'Show cm', before: top, after: { ...top, unit: 'cm' } }]);
    store.actions.undo();
    expect(store.getState().garment).toBe(top);
    expect(store.getState().notice).toEqual({ tone: 'done', sentence: 'Undone: Show cm.' });
    store.actions.redo();
    expect(store.getState().garment).toEqual({ ...top, unit: 'cm' });
    store.actions.undo();
    must(store.actions.commit('Rename', renamed('Tunic')));
    expect(store.getState().future).toEqual([]);
    store.actions.redo();
    expect(store.getState().garment!.name).toBe('Tunic');
  });

  it('R3 makes no step when nothing changes, whether the same object or the same content', () => {
    const store = testStore(top);
    must(store.actions.commit('Nothing', (garment) => garment));
    must(store.actions.commit('Nothing', (garment) => structuredClone(garment)));
    expect(store.getState().past).toEqual([]);
    expect(store.getState().garment).toBe(top);
  });

  it.each<[string, (garment: Garment) => ReturnType<typeof fail> | Garment, string]>([
    ['a change that answers a failure', () => fail('no', 'It cannot be.'), 'no'],
    ['a blank name', renamed(' '), 'garment-unnamed'],
    [
      'a changed original',
      (g) => ({ ...g, blocks: [{ ...g.blocks[0]!, name: 'Fore' }, g.blocks[1]!] }),
      'block-locked',
    ],
    ['an unlocked original', (g) => ({ ...g, blocks: g.blocks.map((b) => ({ ...b, locked: false })) }), 'block-locked'],
    ['a removed original', (g) => ({ ...g, blocks: [g.blocks[0]!], seamLinks: [] }), 'block-locked'],
  ])('R5 refuses %s, says why and keeps the last good state', (_, change, code) => {
    const store = testStore(top);
    const answer = store.actions.commit('Bad', change);
    expect(answer).toMatchObject({ ok: false, code });
    expect(store.getState()).toMatchObject({ garment: top, past: [], preview: null });
    expect(store.getState().notice).toEqual({ tone: 'refused', sentence: answer.ok ? '' : answer.sentence });
    must(store.actions.commit('Good', inCm));
    expect(store.getState().notice).toBeNull();
  });

  it('R5 refuses a change whose version cannot be worked', () => {
    const report: Report = (garment, version) =>
      version === 'bad' ? fail('crossing', 'The strips cross.') : reportVersion(garment, version);
    const store = testStore(top, { report });
    const version = (id: string) => ({ id, name: id, note: '', made: '2026-01-01T00:00:00.000Z', recipes: {} });
    expect(store.actions.commit('Bad', (g) => ({ ...g, versions: [version('good'), version('bad')] }))).toMatchObject({
      code: 'crossing',
    });
    expect(store.getState().garment).toBe(top);
    must(store.actions.commit('Good', (g) => ({ ...g, versions: [version('good')] })));
  });

  it('works only the versions that a change touches', () => {
    const report = vi.fn<Report>(reportVersion);
    const version = (id: string, note: string) => ({
      id,
      name: id,
      note,
      made: '2026-01-01T00:00:00.000Z',
      recipes: {},
    });
    const store = testStore({ ...top, versions: [version('a', ''), version('b', '')] }, { report });
    report.mockClear();
    must(store.actions.commit('Note', (g) => ({ ...g, versions: [version('a', 'x'), g.versions[1]!] })));
    expect(report.mock.calls.map(([, id]) => id)).toEqual(['a']);
    report.mockClear();
    must(store.actions.commit('Unit', inCm));
    expect(report).not.toHaveBeenCalled();
  });

  it('is refused with nothing open', () => {
    const store = createAppStore();
    expect(store.actions.commit('x', (garment) => garment)).toMatchObject({ ok: false, code: 'nothing-open' });
    store.actions.undo();
    store.actions.redo();
    expect(store.getState().garment).toBeNull();
    expect(shownNow(store.getState())).toBeNull();
  });
});

describe('a preview', () => {
  it('shows the whole change applied to the committed document, and makes no step', () => {
    const store = testStore(top);
    const grow = (garment: Garment) => succeed({ ...garment, name: `${garment.name}!` });
    must(store.actions.showPreview(grow));
    must(store.actions.showPreview(grow));
    expect(store.getState().preview!.name).toBe('Sleeveless top!');
    expect(store.getState()).toMatchObject({ garment: top, past: [] });
    expect(shownNow(store.getState())!.garment.name).toBe('Sleeveless top!');
    store.actions.dropPreview();
    expect(store.getState().preview).toBeNull();
    must(store.actions.showPreview(grow));
    must(store.actions.commit('Grow', grow));
    expect(store.getState()).toMatchObject({ preview: null, garment: { name: 'Sleeveless top!' } });
    expect(store.getState().past).toHaveLength(1);
  });

  it('R5 that is refused keeps the last good one and says why, until one is good again', () => {
    const store = testStore(top);
    must(store.actions.showPreview(renamed('One')));
    const good = store.getState().preview;
    expect(store.actions.showPreview(renamed(''))).toMatchObject({ ok: false });
    expect(store.getState().preview).toBe(good);
    const notice = store.getState().notice;
    expect(notice).toMatchObject({ tone: 'refused' });
    store.actions.showPreview(renamed(''));
    expect(store.getState().notice).toBe(notice);
    must(store.actions.showPreview(renamed('Two')));
    expect(store.getState()).toMatchObject({ preview: { name: 'Two' }, notice: null });
  });

  it('back at the start is no preview', () => {
    const store = testStore(top);
    must(store.actions.showPreview(renamed('One')));
    must(store.actions.showPreview(renamed('Sleeveless top')));
    expect(store.getState().preview).toBeNull();
  });

  it('is dropped by going elsewhere, by undo and by taking a version down', () => {
    const store = testStore(top);
    must(store.actions.commit('Show cm', inCm));
    must(store.actions.showPreview(renamed('One')));
    store.actions.undo();
    expect(store.getState().preview).toBeNull();
    must(store.actions.showPreview(renamed('One')));
    store.actions.goTo('print');
    expect(store.getState().preview).toBeNull();
    must(store.actions.showPreview(renamed('One')));
    store.actions.takeDown(null);
    expect(store.getState().preview).toBeNull();
  });
});

describe('what is shown', () => {
  it('is the same object while nothing changes', () => {
    const store = testStore(top);
    const shown = shownNow(store.getState());
    store.actions.look({ centre: { x: 5, y: 5 }, pixelsPerMm: 2 });
    store.actions.pickPiece('back');
    expect(shownNow(store.getState())).toBe(shown);
    expect(shown!.report.version).toBeNull();
    must(store.actions.commit('Show cm', inCm));
    expect(shownNow(store.getState())).not.toBe(shown);
  });

  it('is worked once for each document and version', () => {
    const report = vi.fn<Report>(reportVersion);
    const shown = createShown(report);
    const state = testStore(top).getState();
    shown(state);
    shown({ ...state });
    expect(report).toHaveBeenCalledTimes(1);
  });

  it('is the version that a preview is about to start', () => {
    const version = { id: 'new', name: 'New', note: '', made: '2026-01-01T00:00:00.000Z', recipes: {} };
    const preview = { ...top, versions: [version] };
    expect(shownVersion({ garment: top, preview, activeVersion: null })).toBe('new');
    expect(shownVersion({ garment: preview, preview, activeVersion: null })).toBeNull();
    expect(shownVersion({ garment: preview, preview: { ...top, name: 'x' }, activeVersion: 'new' })).toBeNull();
    expect(shownVersion({ garment: preview, preview: null, activeVersion: 'new' })).toBe('new');
  });
});

describe('opening and attention', () => {
  const version = (id: string) => ({ id, name: id, note: '', made: '2026-01-01T00:00:00.000Z', recipes: {} });

  it('starts with the block of the first piece, ready to fan when all is locked, else to mark', () => {
    const store = testStore(top);
    expect(store.getState()).toMatchObject({
      activePiece: 'front',
      activeVersion: null,
      place: 'fan',
      past: [],
      future: [],
    });
    store.actions.openGarment({ ...top, blocks: top.blocks.map((block) => ({ ...block, locked: false })) });
    expect(store.getState().place).toBe('mark');
    store.actions.openGarment({ ...top, blocks: [], seamLinks: [] });
    expect(store.getState()).toMatchObject({ place: 'mark', activePiece: null });
    store.actions.closeGarment();
    expect(store.getState()).toMatchObject({ garment: null, place: 'bring-in' });
  });

  it('warns of a version that cannot be worked, and does not take it down', () => {
    const report: Report = (garment, id) =>
      id === 'bad' ? fail('crossing', 'The strips cross.') : reportVersion(garment, id);
    const store = testStore({ ...top, versions: [version('bad')] }, { report });
    expect(store.getState().notice).toEqual({
      tone: 'warning',
      sentence: 'The version “bad” cannot be shown: The strips cross.',
    });
    store.actions.takeDown('bad');
    expect(store.getState()).toMatchObject({
      activeVersion: null,
      notice: { tone: 'refused', sentence: 'The strips cross.' },
    });
  });

  it('follows the document: what is gone is let go, what undo brings back or changes is taken down', () => {
    const store = testStore({ ...top, versions: [version('a'), version('b')] });
    const { actions } = store;
    actions.takeDown('a');
    actions.layGhost('b');
    must(actions.commit('Delete both', (g) => ({ ...g, versions: [] })));
    expect(store.getState()).toMatchObject({ activeVersion: null, ghost: null });
    actions.undo();
    actions.takeDown('b');
    must(actions.commit('Delete a', (g) => ({ ...g, versions: [g.versions[1]!] })));
    expect(store.getState().activeVersion).toBe('b');
    actions.undo();
    expect(store.getState().activeVersion).toBe('a');
  });

  it('ignores what is not there', () => {
    const store = testStore(top);
    store.actions.pickPiece('sleeve');
    store.actions.takeDown('x');
    store.actions.layGhost('x');
    expect(store.getState()).toMatchObject({ activePiece: 'front', activeVersion: null, ghost: null });
    store.actions.layGhost('block');
    expect(store.getState().ghost).toBe('block');
  });

  it('lets go of a selected slash line that is gone', () => {
    const store = testStore(top);
    must(store.commands.setSlashCount('front', 3));
    store.actions.select({ kind: 'slash', piece: 'front', slash: 's3' });
    must(store.commands.setSlashCount('front', 2));
    expect(store.getState().selection).toBeNull();
    store.actions.select({ kind: 'slash', piece: 'front', slash: 's1' });
    must(store.commands.setOpeningForAll('front', 20));
    expect(store.getState().selection).toEqual({ kind: 'slash', piece: 'front', slash: 's1' });
  });
});
