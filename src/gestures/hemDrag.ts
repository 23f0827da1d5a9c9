import { dot, type Point, point } from '../geometry/point';
import type { TrueStep } from '../pattern/recipe';
import { formatLength } from '../units/length';
import { type Drag, reduceDrag, startDrag } from './drag';
import type { Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import type { ScenePiece, TableScene } from './scene';
import { type HemEnd, trueView } from './trueView';
import { snapNumber, wholeStep } from './wholeUnits';

/** A curve handle of the trued hem held by the pointer; the value is its length, mm. */
export interface HemHandleDrag extends Drag<number> {
  readonly kind: 'hem-handle';
  readonly piece: string;
  readonly step: TrueStep;
  readonly end: HemEnd;
  /** Unit direction from the hem's corner along the handle. */
  readonly along: Point;
}

/** A hem corner held by the pointer; the value is the length added there, mm. */
export interface HemDropDrag extends Drag<number> {
  readonly kind: 'hem-drop';
  readonly piece: string;
  readonly step: TrueStep;
  readonly end: HemEnd;
  /** Unit direction in which the edge runs out over the hem. */
  readonly along: Point;
}

/** A handle keeps at least this length, mm; at nothing the hem would have no direction there. */
const shortestHandle = 2;

export function startHemHandle(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  end: HemEnd,
): HemHandleDrag | null {
  const view = trueView(piece.worked, piece.fan);
  if (view === null || piece.trueing === null) return null;
  const { into, handleLength } = view.ends[end];
  return {
    ...startDrag(pointer, scene, handleLength),
    kind: 'hem-handle',
    piece: piece.id,
    step: piece.trueing,
    end,
    along: into,
  };
}

export function startHemDrop(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  end: HemEnd,
): HemDropDrag | null {
  const view = trueView(piece.worked, piece.fan);
  if (view === null || piece.trueing === null) return null;
  return {
    ...startDrag(pointer, scene, piece.trueing.hem.drop[end]),
    kind: 'hem-drop',
    piece: piece.id,
    step: piece.trueing,
    end,
    along: view.ends[end].longer,
  };
}

/** Pulls the hem's curve handle in or out along its own direction; the corner stays as square as it was. */
export function dragHemHandle(drag: HemHandleDrag, event: TableEvent, scene: TableScene): Step<HemHandleDrag> {
  return reduceDrag(drag, event, scene, {
    cursor: 'move',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) => {
      const snapped = snapNumber(drag.initial + dot(point(right, down), drag.along), {
        stops: [{ value: drag.initial, word: 'as it was' }],
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        reach: reachMm('snap', pointer.kind, scene.camera) / 2,
        free: pointer.alt,
      });
      return { value: Math.max(shortestHandle, snapped.value), word: snapped.word };
    },
    says: (value) => `Hem handle ${formatLength(value, scene.unit)} at the ${endWord(drag.end)}`,
    order: (value) => hemHandleOrder(drag.piece, drag.step, drag.end, value),
  });
}

/** Lengthens or shortens the piece at one end of the hem. */
export function dragHemDrop(drag: HemDropDrag, event: TableEvent, scene: TableScene): Step<HemDropDrag> {
  return reduceDrag(drag, event, scene, {
    cursor: 'ns-resize',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) =>
      snapNumber(drag.initial + dot(point(right, down), drag.along), {
        stops: [
          { value: drag.initial, word: 'as it was' },
          { value: 0, word: 'no length added' },
        ],
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        reach: reachMm('snap', pointer.kind, scene.camera) / 2,
        free: pointer.alt,
      }),
    says: (value) =>
      value < 0
        ? `${formatLength(-value, scene.unit)} taken off at the ${endWord(drag.end)}`
        : `${formatLength(value, scene.unit)} added at the ${endWord(drag.end)}`,
    order: (value) => hemDropOrder(drag.piece, drag.step, drag.end, value),
  });
}

export function hemHandleOrder(piece: string, step: TrueStep, end: HemEnd, length: number): Order {
  const handles = { ...step.hem.handles, [end]: length };
  return (commands, mode) => commands.setTrue(piece, { ...step, hem: { ...step.hem, handles } }, mode);
}

export function hemDropOrder(piece: string, step: TrueStep, end: HemEnd, added: number): Order {
  const drop = { ...step.hem.drop, [end]: added };
  return (commands, mode) => commands.setTrue(piece, { ...step, hem: { ...step.hem, drop } }, mode);
}

function endWord(end: HemEnd): string {
  return end === 'centre' ? 'centre line' : 'side seam';
}
