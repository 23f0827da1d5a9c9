import { chosenDraftSpot, nudgeDraftNode, openOutline } from '../gestures/draftNodes';
import { chosenFoldEnd, nextStop, nudgeFoldEnd, openFold } from '../gestures/foldLineKeys';
import type { TableEvent } from '../gestures/gesture';
import { type Handle, handlesOf, sameSelection } from '../gestures/handles';
import { cameraForKey, type Direction, nextHandle, nudge, nudgeStep } from '../gestures/keyboard';
import { chosenSpot, nextSpot, nudgeSpot, openPicture, saysOf } from '../gestures/pictureSpots';
import type { TableScene } from '../gestures/scene';
import type { AppStore } from '../store/appCommands';
import type { BringInDraft } from '../store/bringIn';
import type { PictureDraft } from '../store/pictureDraft';

const arrows: Readonly<Record<string, Direction>> = {
  ArrowLeft: 'left',
  ArrowRight: 'right',
  ArrowUp: 'up',
  ArrowDown: 'down',
};

const arrowWays: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
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
  change: { readonly picture: (picture: PictureDraft) => void; readonly draft: (draft: BringInDraft) => void },
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

  /** Corners and other places on a picture, walked and moved like handles; null for keys that are not about them. */
  function pressOnPicture(picture: PictureDraft, event: KeyboardEvent): boolean | null {
    if (event.key === 'Tab') {
      if (document.activeElement !== canvas || leaving) return false;
      const next = nextSpot(picture, event.shiftKey);
      change.picture({ ...picture, chosen: next?.id ?? null });
      store.actions.setHint(next === null ? null : saysOf(next));
      return next !== null;
    }
    const way = arrowWays[event.key];
    if (way === undefined || chosenSpot(picture) === null) return null;
    change.picture(nudgeSpot(picture, way[0], way[1], event.shiftKey));
    return true;
  }

  function pressOnOutline(now: TableScene, draft: BringInDraft, event: KeyboardEvent): boolean | null {
    if (event.key === 'Tab') {
      if (document.activeElement !== canvas || leaving) return false;
      const next = nextStop(now, draft, event.shiftKey);
      change.draft(next.draft);
      store.actions.setHint(next.says);
      return next.says !== null;
    }
    const way = arrowWays[event.key];
    if (way === undefined) return null;
    if (chosenFoldEnd(draft) !== null) {
      change.draft(nudgeFoldEnd(draft, way[0], way[1], event.shiftKey));
      return true;
    }
    if (openOutline(now) === null || chosenDraftSpot(draft) === null) return null;
    change.draft(nudgeDraftNode(draft, way[0], way[1], event.shiftKey));
    return true;
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
      const picture = openPicture(now);
      const draft = openFold(now) === null ? openOutline(now) : now.draft;
      const onPicture =
        picture !== null ? pressOnPicture(picture, event) : draft !== null ? pressOnOutline(now, draft, event) : null;
      if (onPicture !== null) return onPicture;
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
