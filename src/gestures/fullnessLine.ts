import { nearestOnPath } from '../geometry/nearest';
import { pathLength, pathPointAt } from '../geometry/path';
import { point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { frameOf } from '../operations/linkage/pieceFrame';
import { findEdge } from '../pattern/lookUp';
import type { Piece } from '../pattern/piece';
import type { FanStep } from '../pattern/recipe';
import { formatLength } from '../units/length';
import { type Drag, reduceDrag, startDrag } from './drag';
import type { Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import { pieceOf, placed, type ScenePiece, type TableScene } from './scene';
import { type Stop, snapNumber, wholeStep } from './wholeUnits';

/** The fullness line held by the pointer; the value is its distance down the side seam, mm. */
export interface FullnessDrag extends Drag<number> {
  readonly kind: 'fullness-line';
  readonly piece: string;
  /** As it was at the press. */
  readonly step: FanStep;
}

/** The line stays at least this far from both ends of the side seam, mm. */
const endRoom = 5;

export function startFullness(pointer: PointerSample, scene: TableScene, piece: ScenePiece): FullnessDrag | null {
  if (piece.fan?.fullness == null) return null;
  return {
    ...startDrag(pointer, scene, piece.fan.fullness.downSide),
    kind: 'fullness-line',
    piece: piece.id,
    step: piece.fan,
  };
}

/** Slides the fullness line up and down the side seam of the block; the seam above it never moves. */
export function dragFullness(drag: FullnessDrag, event: TableEvent, scene: TableScene): Step<FullnessDrag> {
  const piece = pieceOf(scene, drag.piece);
  if (piece === null) return { state: null, preview: null };
  const frame = frameOf(piece.block, drag.step);
  if (!frame.ok) return { state: null, preview: null };
  const seam = frame.value.sideDown;
  const length = pathLength(seam);
  const held = pathPointAt(seam, drag.initial).point;
  return reduceDrag(drag, event, scene, {
    cursor: 'ns-resize',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) => {
      const raw = nearestOnPath(seam, point(held.x + right, held.y + down)).along;
      const snapped = snapNumber(raw, {
        stops: [{ value: drag.initial, word: 'as it was' }, ...seamStops(piece.block, drag.step, seam)],
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        reach: reachMm('snap', pointer.kind, scene.camera) / 4,
        free: pointer.alt,
      });
      const value = Math.min(length - endRoom, Math.max(endRoom, snapped.value));
      const at = placed(piece, pathPointAt(seam, value).point);
      return {
        value,
        word: snapped.word,
        marks: snapped.word === null ? [] : [{ kind: 'snap', at, word: snapped.word }],
      };
    },
    says: (value) => `Fullness line ${formatLength(value, scene.unit)} down the side seam`,
    order: (value) => fullnessOrder(drag.piece, value),
  });
}

export function fullnessOrder(piece: string, downSide: number): Order {
  return (commands, mode) => commands.moveFullnessLine(piece, downSide, mode);
}

/** Notches of the side seam, as distances down it. */
function seamStops(piece: Piece, step: FanStep, seam: Path): Stop[] {
  const length = pathLength(seam);
  const runsDown = seam[0]!.start === findEdge(piece, step.side)!.path[0]!.start;
  return piece.notches
    .filter((notch) => notch.edge === step.side)
    .map((notch) => ({ value: runsDown ? notch.distance : length - notch.distance, word: 'notch' }));
}
