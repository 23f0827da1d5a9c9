import type { TableEvent } from '../gestures/gesture';
import { type Handle, handlesOf, sameSelection } from '../gestures/handles';
import { cameraForKey, type Direction, nextHandle, nudge, nudgeStep } from '../gestures/keyboard';
import type { TableScene } from '../gestures/scene';
import type { AppStore } from '../store/appCommands';

const arrows: Readonly<Record<string, Direction>> = {
  ArrowLeft: 'left',
  ArrowRight: 'right',
  ArrowUp: 'up',
  ArrowDown: 'down',
};

export interface TableKeys {
  /** True when the key was used and must not scroll the page or move the focus. */
  press(event: KeyboardEvent): boolean;
  /** Told of every other event, so that Escape can hand the focus on. */
  heard(event: TableEvent, dragging: boolean): void;
  /** The canvas has just got the focus. */
  focused(): void;
}

/**
 * The table by keyboard: Tab visits the handles, arrows move the selected one or push the sheet, + and - zoom, 0 shows
 * everything. Past the last handle, and after Escape, Tab moves the focus on as anywhere on the page, so no one is
 * caught here.
 */
export function createTableKeys(
  canvas: HTMLCanvasElement,
  store: AppStore,
  scene: () => TableScene,
  showAll: () => void,
): TableKeys {
  let leaving = false;

  function select(handle: Handle | null): void {
    store.actions.select(handle?.selection ?? null);
    store.actions.setHint(handle?.sentence ?? null);
  }

  function selectedHandle(now: TableScene): Handle | undefined {
    return handlesOf(now).find((handle) => sameSelection(handle.selection, now.selection));
  }

  function moveSelected(now: TableScene, direction: Direction, large: boolean): void {
    const order = now.selection && nudge(now, now.selection, direction, nudgeStep(now.unit, large));
    if (order === null) return;
    order(store.commands, 'commit');
    const moved = selectedHandle(scene());
    if (moved !== undefined) store.actions.setHint(moved.sentence);
  }

  return {
    focused() {
      leaving = false;
    },
    heard(event, dragging) {
      if (event.type === 'key') leaving = event.key === 'Escape' && !dragging;
      else if (event.type === 'press') leaving = false;
    },
    press(event) {
      const now = scene();
      if (event.key === 'Tab') {
        if (document.activeElement !== canvas || leaving) return false;
        const next = nextHandle(now, event.shiftKey);
        select(next);
        return next !== null;
      }
      const direction = arrows[event.key];
      if (direction !== undefined && selectedHandle(now) !== undefined) {
        moveSelected(now, direction, event.shiftKey);
        return true;
      }
      if (event.key === '0') {
        showAll();
        return true;
      }
      const camera = cameraForKey(event.key, now);
      if (camera === null) return false;
      store.actions.look(camera);
      return true;
    },
  };
}
