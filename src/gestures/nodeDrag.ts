import { distance, type Point } from '../geometry/point';
import { formatLength } from '../units/length';
import { type Drag, reduceDrag, startDrag } from './drag';
import { tablePoint } from './frames';
import type { Mark, Order, PointerSample, Step, TableEvent } from './gesture';
import { findNode, moveHandle, moveNode, type NodePlace } from './outlineEdit';
import { reachMm } from './reach';
import { isOverPicture, own, pieceOf, placed, type ScenePiece, type TableScene } from './scene';
import { type SnapTargets, snapPoint, snapTargets } from './snapping';
import { wholeStep } from './wholeUnits';

/** A node of an outline, or one of its curve handles, held by the pointer; the value is where it is, piece mm. */
export interface NodeDrag extends Drag<Point> {
  readonly kind: 'node';
  readonly piece: string;
  readonly place: NodePlace;
  readonly handle: 'in' | 'out' | null;
  readonly targets: SnapTargets;
  /** The node the handle belongs to; lengths and right angles are taken from it. */
  readonly from: Point | null;
}

export function startNode(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  place: NodePlace,
  handle: 'in' | 'out' | null,
): NodeDrag | null {
  const node = findNode(piece.block, place);
  const at = handle === null ? node?.at : handle === 'in' ? node?.handleIn : node?.handleOut;
  if (node == null || at == null) return null;
  return {
    ...startDrag(pointer, scene, at),
    kind: 'node',
    piece: piece.id,
    place,
    handle,
    targets: snapTargets(scene, [placed(piece, node.at)]),
    from: handle === null ? null : node.at,
  };
}

/** Moves a node or a curve handle of an outline that is not locked. Shift turns one handle of a smooth node alone. */
export function dragNode(drag: NodeDrag, event: TableEvent, scene: TableScene): Step<NodeDrag> {
  const piece = pieceOf(scene, drag.piece);
  if (piece === null) return { state: null, preview: null };
  const alone = 'pointer' in event && event.pointer.shift;
  return reduceDrag(drag, event, scene, {
    cursor: 'move',
    same: (a, b) => a.x === b.x && a.y === b.y,
    valueAt: (right, down, pointer) => {
      const onPicture =
        drag.handle === null && !pointer.alt ? seenOnPicture(drag, right, down, pointer, scene, piece) : null;
      if (onPicture !== null) return onPicture;
      const start = placed(piece, drag.initial);
      const snapped = snapPoint(tablePoint(start.across + right, start.down + down), {
        targets: drag.handle === null ? drag.targets : { points: [], paths: [] },
        reach: reachMm('snap', pointer.kind, scene.camera),
        from: drag.from === null ? null : placed(piece, drag.from),
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        free: pointer.alt,
      });
      return { value: own(piece, snapped.at), word: snapped.word, marks: snapped.marks };
    },
    says: (value) =>
      drag.from === null
        ? `Moved ${formatLength(distance(drag.initial, value), scene.unit)}`
        : `Handle ${formatLength(distance(drag.from, value), scene.unit)} long`,
    order: (value) => nodeOrder(drag.piece, drag.place, drag.handle, value, alone),
  });
}

/** The drawn line or paper edge that a point comes near to, on the picture its piece was taken from. */
function seenOnPicture(
  { initial }: NodeDrag,
  right: number,
  down: number,
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
) {
  if (scene.seeLine === null || !isOverPicture(scene, piece)) return null;
  const to = { x: initial.x + right, y: initial.y + down };
  const seen = scene.seeLine(to, reachMm('snap', pointer.kind, scene.camera));
  if (seen === null) return null;
  const mark: Mark = { kind: 'snap', at: placed(piece, seen.at), word: seen.word };
  return { value: seen.at, word: seen.word, marks: [mark] };
}

export function nodeOrder(
  piece: string,
  place: NodePlace,
  handle: 'in' | 'out' | null,
  to: Point,
  alone: boolean,
): Order {
  return (commands, mode) =>
    handle === null
      ? commands.changeBlock('Move a point of the outline', piece, (block) => moveNode(block, place, to), mode)
      : commands.changeBlock('Bend the outline', piece, (block) => moveHandle(block, place, handle, to, alone), mode);
}
