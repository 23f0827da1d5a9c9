import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { onTable, screenAt } from '../../src/gestures/frames';
import { handlesOf, sameSelection } from '../../src/gestures/handles';
import { activePieceOf } from '../../src/gestures/scene';
import { type MountedTable, mountTable } from '../../src/render/mountTable';
import type { AppStore } from '../../src/store/appCommands';
import type { Selection } from '../../src/store/appState';
import { TableDriver } from '../gestures/tableDriver';

/**
 * The wiring only: events in, commands out, nothing left behind. There are no pixels here (the canvas forgets what is
 * drawn on it); how the table looks is for the browser jobs.
 */
let frames: Map<number, FrameRequestCallback>;
let clock = 0;
let box: HTMLDivElement;
let canvas: HTMLCanvasElement;
let store: AppStore;
let mounted: MountedTable[];

const view = { width: 1000, height: 700 };

beforeEach(() => {
  frames = new Map();
  let next = 1;
  vi.stubGlobal('requestAnimationFrame', (call: FrameRequestCallback) => {
    frames.set(next, call);
    return next++;
  });
  vi.stubGlobal('cancelAnimationFrame', (id: number) => frames.delete(id));
  box = document.createElement('div');
  canvas = document.createElement('canvas');
  canvas.tabIndex = 0;
  box.append(canvas);
  document.body.append(box);
  const rectangle = { x: 0, y: 0, left: 0, top: 0, right: view.width, bottom: view.height, ...view, toJSON: () => '' };
  box.getBoundingClientRect = () => rectangle;
  canvas.getBoundingClientRect = () => rectangle;
  ({ store } = new TableDriver().fanned());
  mounted = [];
});

afterEach(() => {
  for (const table of mounted) table.destroy();
  box.remove();
  vi.unstubAllGlobals();
});

function mount(): MountedTable {
  const table = mountTable(canvas, store);
  mounted.push(table);
  settle();
  return table;
}

function runFrame(): void {
  const due = [...frames.values()];
  frames.clear();
  clock += 400;
  for (const call of due) call(clock);
}

function settle(): void {
  for (let round = 0; round < 10 && frames.size > 0; round++) runFrame();
}

function where(table: MountedTable, selection: Selection) {
  const scene = table.scene();
  const handle = handlesOf(scene).find((one) => sameSelection(one.selection, selection))!;
  return screenAt(scene.camera, scene.view, onTable(handle.at, activePieceOf(scene)!.offset));
}

function point(type: string, at: { left: number; top: number }): void {
  canvas.dispatchEvent(
    new PointerEvent(type, { pointerId: 1, pointerType: 'mouse', clientX: at.left, clientY: at.top, bubbles: true }),
  );
}

const fullness = { kind: 'fullness-line', piece: 'front' } as const;
const downSide = () => {
  const [version] = store.getState().garment!.versions;
  const fan = version!.recipes.front!.find((step) => step.kind === 'fan');
  return fan?.kind === 'fan' ? fan.fullness!.downSide : null;
};

describe('the table on a canvas', () => {
  it('shows a newly opened garment whole', () => {
    const table = mount();
    const { camera, layout } = table.scene();
    const corner = screenAt(camera, view, { across: layout.pieces.maxX, down: layout.pieces.maxY });
    expect(corner.left).toBeLessThan(view.width);
    expect(corner.top).toBeLessThan(view.height);
    expect(canvas.width).toBe(view.width * (window.devicePixelRatio || 1));
  });

  it('many pointer moves make one preview per frame, and one commit in all', () => {
    const table = mount();
    const from = where(table, fullness);
    const steps = store.getState().past.length;
    const before = downSide();
    point('pointerdown', from);
    let previews = 0;
    const stop = store.subscribe((state, last) => {
      if (state.preview !== last.preview && state.preview !== null) previews += 1;
    });
    for (let move = 1; move <= 40; move++) point('pointermove', { left: from.left, top: from.top + move });
    expect(previews).toBe(0);
    runFrame();
    expect(previews).toBe(1);
    point('pointerup', { left: from.left, top: from.top + 40 });
    stop();
    expect(store.getState().past.length).toBe(steps + 1);
    expect(downSide()).toBeGreaterThan(before!);
  });

  it('paints at most once per frame and rests when nothing happens', () => {
    mount();
    expect(frames.size).toBe(0);
    store.actions.setHint('a');
    store.actions.setHint('b');
    expect(frames.size).toBe(1);
    settle();
    expect(frames.size).toBe(0);
  });

  it('a frame that fails is not the last one', () => {
    const table = mount();
    const from = where(table, fullness);
    point('pointerdown', from);
    const move = vi.spyOn(store.commands, 'moveFullnessLine').mockImplementationOnce(() => {
      throw new Error('a command failed');
    });
    point('pointermove', { left: from.left, top: from.top + 20 });
    expect(runFrame).toThrow('a command failed');
    const before = downSide();
    point('pointermove', { left: from.left, top: from.top + 40 });
    expect(frames.size).toBe(1);
    runFrame();
    point('pointerup', { left: from.left, top: from.top + 40 });
    expect(move.mock.calls.length).toBeGreaterThan(1);
    expect(downSide()).toBeGreaterThan(before!);
  });

  it('keys: Tab takes the first handle, an arrow moves it, Tab past the last lets the focus go', () => {
    const table = mount();
    canvas.focus();
    const key = (name: string) => {
      const event = new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true });
      canvas.dispatchEvent(event);
      return event.defaultPrevented;
    };
    expect(key('Tab')).toBe(true);
    expect(store.getState().selection).toEqual(fullness);
    expect(key('ArrowDown')).toBe(true);
    // The sample is in inches, and 60 mm down the side to begin with.
    expect(downSide()).toBeCloseTo(60 + 25.4 / 16, 9);
    for (let count = handlesOf(table.scene()).length; count > 1; count--) expect(key('Tab')).toBe(true);
    expect(key('Tab')).toBe(false);
    expect(store.getState().selection).toBeNull();
  });

  it('keys: after Escape Tab lets the focus go at once, 0 shows everything again', () => {
    const table = mount();
    canvas.focus();
    const key = (name: string) => {
      const event = new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true });
      canvas.dispatchEvent(event);
      return event.defaultPrevented;
    };
    expect(key('Tab')).toBe(true);
    key('Escape');
    expect(store.getState().selection).toBeNull();
    expect(key('Tab')).toBe(false);
    const { camera } = table.scene();
    key('+');
    key('ArrowLeft');
    expect(table.scene().camera).not.toEqual(camera);
    key('0');
    settle();
    expect(table.scene().camera).toEqual(camera);
  });

  it('destroyed, it leaves nothing behind, and the same canvas can be mounted again', () => {
    const table = mount();
    expect(box.querySelectorAll('canvas')).toHaveLength(2);
    table.destroy();
    mounted.pop();
    expect(box.querySelectorAll('canvas')).toHaveLength(1);
    store.actions.setHint('c');
    point('pointermove', { left: 200, top: 200 });
    expect(frames.size).toBe(0);
    const again = mount();
    const from = where(again, fullness);
    point('pointerdown', from);
    point('pointermove', { left: from.left, top: from.top + 30 });
    point('pointerup', { left: from.left, top: from.top + 30 });
    expect(downSide()).toBeGreaterThan(60);
  });
});
