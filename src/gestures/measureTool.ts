import type { PictureDraft } from '../store/pictureDraft';
import { formatLength } from '../units/length';
import { letGo } from './drag';
import { type TablePoint, tableAt } from './frames';
import type { Mark, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import type { TableScene } from './scene';
import { snapPoint, snapTargets } from './snapping';
import { wholeStep } from './wholeUnits';

/** A tape laid from one point to another. */
export interface Measure {
  readonly kind: 'measure';
  readonly pointer: number;
  readonly from: TablePoint;
  readonly to: TablePoint;
}

export function hoverMeasure(
  pointer: PointerSample,
  scene: TableScene,
): Pick<Step<never>, 'marks' | 'hint' | 'cursor'> {
  const snapped = snapTo(pointer, scene, null);
  const hint =
    scene.draft?.scale.kind === 'ask' || checksPicture(scene)
      ? 'Drag along a length you know, such as a printed ruler or test square'
      : 'Drag from one point to another to measure';
  return { marks: snapped.marks, hint, cursor: 'crosshair' };
}

export function startMeasure(pointer: PointerSample, scene: TableScene): Measure {
  const { at } = snapTo(pointer, scene, null);
  return { kind: 'measure', pointer: pointer.id, from: at, to: at };
}

/** Measures the straight distance between press and release; the tape stays until the next press or Escape. */
export function measure(state: Measure, event: TableEvent, scene: TableScene): Step<Measure> {
  if (event.type === 'key' && event.key === 'Escape') return letGo;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel') return letGo;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const snapped = snapTo(event.pointer, scene, state.from);
  const to = snapped.at;
  const length = Math.hypot(to.across - state.from.across, to.down - state.from.down);
  if (length === 0) return event.type === 'release' ? letGo : { state };
  const asksScale = scene.draft?.scale.kind === 'ask' || checksPicture(scene);
  // Without a scale a number would be a guess, so the tape stays bare.
  const text = asksScale ? '' : formatLength(length, scene.unit);
  const tape: Mark = { kind: 'measure', from: state.from, to, text };
  const hint = asksScale ? 'Now type how long this is' : `${text} from point to point`;
  const checked = scene.picture !== null && checksPicture(scene) ? withTape(scene.picture, state.from, to) : null;
  if (event.type === 'move') {
    return { state: { ...state, to }, marks: [tape, ...snapped.marks], hint, cursor: 'crosshair' };
  }
  return {
    state: null,
    marks: [tape],
    hint,
    cursor: 'crosshair',
    ...(asksScale ? { measureScale: { from: state.from, to } } : {}),
    ...(checked === null ? {} : { picture: checked, marks: [] }),
  };
}

/** Whether a known length is laid on a straightened picture, to check it. */
function checksPicture({ draft, picture }: TableScene): boolean {
  return draft === null && picture?.stage === 'check';
}

/** The picture with the length to be checked laid on it; its ends can be moved from then on. */
function withTape(picture: PictureDraft, from: TablePoint, to: TablePoint): PictureDraft {
  const tape = { from: { x: from.across, y: from.down }, to: { x: to.across, y: to.down } };
  return { ...picture, tape, chosen: null };
}

/** Lengths are measured as they are, so only things on the table snap, never whole units. */
function snapTo(pointer: PointerSample, scene: TableScene, from: TablePoint | null) {
  const at = tableAt(scene.camera, scene.view, pointer.at);
  const options = {
    targets: snapTargets(scene),
    reach: reachMm('snap', pointer.kind, scene.camera),
    step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
    // On a picture a right angle or a whole length would only look true.
    free: pointer.alt || checksPicture(scene),
  };
  const snapped = snapPoint(at, { ...options, from });
  return snapped.word === null ? { at, word: null, marks: [] } : snapped;
}
