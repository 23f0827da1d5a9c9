import type { Camera } from '../store/appState';

export type PointerKind = 'mouse' | 'pen' | 'touch';

/** What a distance in pixels is for. */
export type Reach = 'handle' | 'line' | 'snap' | 'drag';

/** CSS pixels. A fingertip covers about 44 px; a mouse is good to a few. */
const pixels: Readonly<Record<Reach, Readonly<Record<PointerKind, number>>>> = {
  handle: { mouse: 10, pen: 14, touch: 24 },
  line: { mouse: 6, pen: 9, touch: 16 },
  snap: { mouse: 8, pen: 9, touch: 14 },
  // How far the pointer must travel before a press becomes a drag.
  drag: { mouse: 3, pen: 5, touch: 8 },
};

export function reachPixels(reach: Reach, pointer: PointerKind): number {
  return pixels[reach][pointer];
}

/** The one place where pixels become model distances: how near counts as on it, mm on the table. */
export function reachMm(reach: Reach, pointer: PointerKind, camera: Camera): number {
  return pixels[reach][pointer] / camera.pixelsPerMm;
}
