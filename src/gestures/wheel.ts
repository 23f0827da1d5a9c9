import type { Camera } from '../store/appState';
import { panBy, zoomAbout } from './camera';
import type { TableEvent } from './gesture';
import type { TableScene } from './scene';

/** Zoom per CSS pixel of wheel travel: a mouse notch of 100 px is about 22 %, a trackpad pinch runs smoothly. */
const zoomPerPixel = 0.002;

/**
 * A plain wheel pushes the sheet, as it scrolls any page (with Shift the browser turns it sideways). Held with Ctrl or
 * Command, and for a pinch on a trackpad, which browsers report that way, it zooms about the pointer.
 */
export function wheel(event: Extract<TableEvent, { type: 'wheel' }>, scene: TableScene): Camera {
  if (!event.zoom) return panBy(scene.camera, -event.across, -event.down);
  return zoomAbout(scene.camera, scene.view, event.at, Math.exp(-event.down * zoomPerPixel));
}
