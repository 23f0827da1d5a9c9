import type { Camera } from '../store/appState';
import { clampZoom, holdPoint, panBy } from './camera';
import { type ScreenPoint, screenDistance, type TablePoint, tableAt } from './frames';
import type { Effects, PointerSample, Step, TableEvent } from './gesture';
import { reachPixels } from './reach';
import type { TableScene } from './scene';

/** The sheet pushed along by one pointer. */
export interface Pan {
  readonly kind: 'pan';
  readonly pointer: number;
  readonly pressedAt: ScreenPoint;
  readonly camera: Camera;
  readonly began: boolean;
  /** What happens when the press turns out to be a tap. */
  readonly tap: Effects;
}

/** The sheet held by two fingers; the table's points under them stay under them. */
export interface Pinch {
  readonly kind: 'pinch';
  readonly fingers: readonly [Finger, Finger];
}

interface Finger {
  readonly pointer: number;
  readonly at: ScreenPoint;
  /** The table's point that was under it when the pinch began. */
  readonly held: TablePoint;
}

export function startPan(pointer: PointerSample, scene: TableScene, tap: Effects = {}): Pan {
  return { kind: 'pan', pointer: pointer.id, pressedAt: pointer.at, camera: scene.camera, began: false, tap };
}

/** Escape puts the sheet back where it was. */
export function pan(state: Pan, event: TableEvent, scene: TableScene): Step<Pan> {
  if (event.type === 'key' && event.key === 'Escape') return { state: null, camera: state.camera };
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel') return { state: null };
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const { at, kind } = event.pointer;
  const began = state.began || screenDistance(at, state.pressedAt) >= reachPixels('drag', kind);
  const next = event.type === 'release' ? null : { ...state, began };
  if (!began)
    return next === null ? { state: null, ...state.tap, cursor: 'default' } : { state: next, cursor: 'grabbing' };
  // From the press on, so that rounding never adds up. A change of zoom meanwhile (wheel) is kept.
  const from = { ...state.camera, pixelsPerMm: scene.camera.pixelsPerMm };
  const camera = panBy(from, at.left - state.pressedAt.left, at.top - state.pressedAt.top);
  return { state: next, camera, cursor: event.type === 'release' ? 'default' : 'grabbing' };
}

export function startPinch(
  first: { readonly id: number; readonly at: ScreenPoint },
  second: { readonly id: number; readonly at: ScreenPoint },
  scene: TableScene,
): Pinch {
  const finger = ({ id, at }: { readonly id: number; readonly at: ScreenPoint }): Finger => ({
    pointer: id,
    at,
    held: tableAt(scene.camera, scene.view, at),
  });
  return { kind: 'pinch', fingers: [finger(first), finger(second)] };
}

/** Two fingers zoom and pan at once; the sheet never turns. Ends when either finger lifts. */
export function pinch(state: Pinch, event: TableEvent, scene: TableScene): Step<Pinch> {
  if (!('pointer' in event)) return { state };
  const { id, at } = event.pointer;
  if (!state.fingers.some((finger) => finger.pointer === id)) return { state };
  if (event.type === 'release' || event.type === 'cancel') return { state: null };
  if (event.type !== 'move') return { state };
  const [a, b] = state.fingers.map((finger) => (finger.pointer === id ? { ...finger, at } : finger)) as [
    Finger,
    Finger,
  ];
  const spread = Math.hypot(b.held.across - a.held.across, b.held.down - a.held.down);
  const pixelsPerMm = spread === 0 ? scene.camera.pixelsPerMm : clampZoom(screenDistance(a.at, b.at) / spread);
  const held = { across: (a.held.across + b.held.across) / 2, down: (a.held.down + b.held.down) / 2 };
  const middle = { left: (a.at.left + b.at.left) / 2, top: (a.at.top + b.at.top) / 2 };
  return { state: { ...state, fingers: [a, b] }, camera: holdPoint(scene.view, held, middle, pixelsPerMm) };
}
