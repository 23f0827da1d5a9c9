import type { Bounds } from '../geometry/bounds';
import type { Camera } from '../store/appState';
import { type ScreenPoint, type TablePoint, tableAt, type ViewSize } from './frames';

/** From a whole floor of fabric to a single stitch: pixels per mm. */
export const smallestZoom = 0.05;
export const largestZoom = 60;

/** Width of the rulers along the top and left edges of the canvas, CSS pixels. */
export const rulerSize = 26;

/** Room kept free round the pieces when they are fitted into view, CSS pixels. */
const fitMargin = 44;

export function clampZoom(pixelsPerMm: number): number {
  return Math.min(largestZoom, Math.max(smallestZoom, pixelsPerMm));
}

/** The camera after the sheet was pushed along by so many pixels. */
export function panBy(camera: Camera, right: number, downwards: number): Camera {
  return {
    ...camera,
    centre: { x: camera.centre.x - right / camera.pixelsPerMm, y: camera.centre.y - downwards / camera.pixelsPerMm },
  };
}

/** Zooms by a factor so that the table's point under `about` stays under it. */
export function zoomAbout(camera: Camera, view: ViewSize, about: ScreenPoint, factor: number): Camera {
  const held = tableAt(camera, view, about);
  return holdPoint(view, held, about, clampZoom(camera.pixelsPerMm * factor));
}

/** The camera that shows a point of the table at a place on the screen. */
export function holdPoint(view: ViewSize, held: TablePoint, at: ScreenPoint, pixelsPerMm: number): Camera {
  return {
    pixelsPerMm,
    centre: {
      x: held.across - (at.left - view.width / 2) / pixelsPerMm,
      y: held.down - (at.top - view.height / 2) / pixelsPerMm,
    },
  };
}

/** The camera that shows all of `bounds` (table mm), clear of the rulers. */
export function fitCamera(bounds: Bounds, view: ViewSize): Camera {
  const width = Math.max(1, bounds.maxX - bounds.minX);
  const height = Math.max(1, bounds.maxY - bounds.minY);
  const roomAcross = Math.max(40, view.width - rulerSize - 2 * fitMargin);
  const roomDown = Math.max(40, view.height - rulerSize - 2 * fitMargin);
  const pixelsPerMm = clampZoom(Math.min(roomAcross / width, roomDown / height));
  const shift = rulerSize / 2 / pixelsPerMm;
  return {
    pixelsPerMm,
    centre: { x: (bounds.minX + bounds.maxX) / 2 - shift, y: (bounds.minY + bounds.maxY) / 2 - shift },
  };
}

/** The part of the table in view, mm. */
export function viewBounds(camera: Camera, view: ViewSize): Bounds {
  const first = tableAt(camera, view, { left: 0, top: 0 });
  const last = tableAt(camera, view, { left: view.width, top: view.height });
  return { minX: first.across, minY: first.down, maxX: last.across, maxY: last.down };
}
