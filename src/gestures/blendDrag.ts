import { add, point } from '../geometry/point';
import type { TrueStep } from '../pattern/recipe';
import { formatLength } from '../units/length';
import { type BlendEnd, type BlendView, blendLengthAt, blendView } from './blendView';
import { type Drag, reduceDrag, startDrag } from './drag';
import type { Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import type { ScenePiece, TableScene } from './scene';
import { snapNumber, wholeStep } from './wholeUnits';

/** An end of the side seam's blend held by the pointer; the value is its length from the hinge, mm. */
export interface BlendDrag extends Drag<number> {
  readonly kind: 'blend';
  readonly piece: string;
  readonly step: TrueStep;
  readonly end: BlendEnd;
  /** As it was at the press. */
  readonly view: BlendView;
}

export function startBlend(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  end: BlendEnd,
): BlendDrag | null {
  const view = blendView(piece);
  if (view === null || piece.trueing === null) return null;
  return {
    ...startDrag(pointer, scene, view.ends[end].length),
    kind: 'blend',
    piece: piece.id,
    step: piece.trueing,
    end,
    view,
  };
}

/** Slides an end of the blend along the side seam, away from the hinge or up to it. */
export function dragBlend(drag: BlendDrag, event: TableEvent, scene: TableScene): Step<BlendDrag> {
  const { at, way } = drag.view.ends[drag.end];
  return reduceDrag(drag, event, scene, {
    cursor: 'move',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) =>
      snapNumber(blendLengthAt(drag.view, way, add(at, point(right, down))), {
        stops: [
          { value: drag.initial, word: 'as it was' },
          { value: 0, word: 'no blend' },
        ],
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        reach: reachMm('snap', pointer.kind, scene.camera) / 2,
        free: pointer.alt,
      }),
    says: (value) => `Side seam blended from ${formatLength(value, scene.unit)} ${besideHinge(drag.end)}`,
    order: (value) => blendOrder(drag.piece, drag.step, drag.end, value),
  });
}

export function blendOrder(piece: string, step: TrueStep, end: BlendEnd, length: number): Order {
  return (commands, mode) => commands.setTrue(piece, { ...step, side: { ...step.side, [end]: length } }, mode);
}

export function besideHinge(end: BlendEnd): string {
  return end === 'up' ? 'above the hinge' : 'below the hinge';
}
