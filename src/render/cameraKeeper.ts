import type { Bounds } from '../geometry/bounds';
import { fitCamera, rulerSize } from '../gestures/camera';
import { screenAt, tablePoint, type ViewSize } from '../gestures/frames';
import type { TableLayout } from '../gestures/layout';
import type { Camera } from '../store/appState';

/** How long the camera takes to glide to a new place, ms. */
const glideTime = 260;

/** Kept free under the pieces for the measures written below a hem, CSS pixels. */
const roomForMeasures = 34;

/** Everything may be this much smaller on the screen than it could be before the camera comes nearer by itself. */
const lazyZoom = 1.35;

interface Glide {
  readonly from: Camera;
  readonly to: Camera;
  readonly began: number;
}

/**
 * Moves the camera for the maker: shows a newly opened thing whole, and keeps whole what was seen whole when it grows or
 * the room for it shrinks. Whoever has gone near to some part of it is left there.
 */
export interface CameraKeeper {
  /** The camera to set now, or null to leave it; `more` asks for another frame. `time` in ms on any steady clock. */
  keep(now: KeeperView, time: number): { readonly camera: Camera | null; readonly more: boolean };
  /** Shows everything from the next frame on. */
  showAll(): void;
}

export interface KeeperView {
  readonly camera: Camera;
  readonly view: ViewSize;
  readonly layout: TableLayout;
  /** What lies on the table; another one is shown whole at once. */
  readonly thing: unknown;
}

export function createCameraKeeper(mayGlide: () => boolean): CameraKeeper {
  let thing: unknown;
  let layout: TableLayout | null = null;
  let view: ViewSize | null = null;
  /** The last camera set here; any other camera is the maker's own. */
  let own: Camera | null = null;
  let glide: Glide | null = null;
  let asked = false;

  function set(camera: Camera, more: boolean) {
    own = camera;
    return { camera, more };
  }

  function arrive(to: Camera) {
    glide = null;
    return set(to, false);
  }

  return {
    showAll() {
      asked = true;
    },
    keep(now, time) {
      const isNew = now.thing !== thing;
      const changed = now.layout !== layout || now.view !== view;
      const wasAsked = asked;
      const resized = now.view !== view;
      const sawAll = layout !== null && view !== null && isInView(layout.pieces, now.camera, view);
      const seesAll = isInView(now.layout.pieces, now.camera, now.view);
      thing = now.thing;
      layout = now.layout;
      view = now.view;
      asked = false;
      const target = fitCamera(now.layout.pieces, now.view);
      if (isNew) return arrive(target);
      if (now.camera !== own) {
        glide = null;
        own = wasAsked || (changed && sawAll && !seesAll) ? now.camera : null;
      }
      if (own === null) return { camera: null, more: false };
      const wanted = wasAsked || (changed && !(seesAll && isLargeEnough(now, target)));
      if (wanted) {
        if (resized || !mayGlide()) return arrive(target);
        glide = { from: now.camera, to: target, began: time };
      }
      if (glide === null) return { camera: null, more: false };
      const part = Math.min(1, (time - glide.began) / glideTime);
      if (part >= 1) return arrive(glide.to);
      return set(between(glide.from, glide.to, part * part * (3 - 2 * part)), true);
    },
  };
}

function isInView(bounds: Bounds, camera: Camera, view: ViewSize): boolean {
  const first = screenAt(camera, view, tablePoint(bounds.minX, bounds.minY));
  const last = screenAt(camera, view, tablePoint(bounds.maxX, bounds.maxY));
  return (
    first.left >= rulerSize + 8 &&
    first.top >= rulerSize + 8 &&
    last.left <= view.width - 8 &&
    last.top <= view.height - roomForMeasures
  );
}

/** Whether everything is not much smaller than it could be. */
function isLargeEnough({ camera }: KeeperView, target: Camera): boolean {
  return target.pixelsPerMm <= camera.pixelsPerMm * lazyZoom;
}

/** Zoom runs evenly in proportion, so a glide looks as fast at its start as at its end. */
function between(from: Camera, to: Camera, part: number): Camera {
  return {
    pixelsPerMm: from.pixelsPerMm * (to.pixelsPerMm / from.pixelsPerMm) ** part,
    centre: {
      x: from.centre.x + (to.centre.x - from.centre.x) * part,
      y: from.centre.y + (to.centre.y - from.centre.y) * part,
    },
  };
}
