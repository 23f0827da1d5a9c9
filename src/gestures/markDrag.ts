import { nearestOnPath } from '../geometry/nearest';
import { pathLength, pathPointAt } from '../geometry/path';
import { distance, type Point, point } from '../geometry/point';
import { findEdge } from '../pattern/lookUp';
import { nameInSentence } from '../pattern/nameInSentence';
import { formatLength } from '../units/length';
import { type Drag, reduceDrag, startDrag } from './drag';
import { tablePoint } from './frames';
import type { Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import { own, pieceOf, placed, type ScenePiece, type TableScene } from './scene';
import { type SnapTargets, snapPoint, snapTargets } from './snapping';
import { snapNumber, wholeStep } from './wholeUnits';

/** A notch held by the pointer; the value is its distance along its edge, mm. */
export interface NotchDrag extends Drag<number> {
  readonly kind: 'notch';
  readonly piece: string;
  readonly notch: string;
  readonly edge: string;
}

/** A drill hole, or one end of the grainline, held by the pointer; the value is where it is, piece mm. */
export interface SpotDrag extends Drag<Point> {
  readonly kind: 'spot';
  readonly piece: string;
  readonly spot:
    | { readonly kind: 'drill-hole'; readonly hole: string }
    | { readonly kind: 'grain-end'; readonly end: 'start' | 'end' };
  readonly targets: SnapTargets;
}

export function startNotch(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  notch: string,
): NotchDrag | null {
  const found = piece.block.notches.find((candidate) => candidate.id === notch);
  if (found === undefined) return null;
  return { ...startDrag(pointer, scene, found.distance), kind: 'notch', piece: piece.id, notch, edge: found.edge };
}

/** Slides a notch along its edge. */
export function dragNotch(drag: NotchDrag, event: TableEvent, scene: TableScene): Step<NotchDrag> {
  const piece = pieceOf(scene, drag.piece);
  const edge = piece === null ? undefined : findEdge(piece.block, drag.edge);
  if (piece === null || edge === undefined) return { state: null, preview: null };
  const length = pathLength(edge.path);
  const held = pathPointAt(edge.path, drag.initial).point;
  return reduceDrag(drag, event, scene, {
    cursor: 'move',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) => {
      const raw = nearestOnPath(edge.path, point(held.x + right, held.y + down)).along;
      const snapped = snapNumber(raw, {
        stops: [
          { value: drag.initial, word: 'as it was' },
          { value: length / 2, word: 'middle of the edge' },
        ],
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        reach: reachMm('snap', pointer.kind, scene.camera) / 2,
        free: pointer.alt,
      });
      return { value: Math.min(length, Math.max(0, snapped.value)), word: snapped.word };
    },
    says: (value) => `Notch ${formatLength(value, scene.unit)} along the ${nameInSentence(edge.name)}`,
    order: (value) => notchOrder(drag.piece, drag.notch, value),
  });
}

export function startDrillHole(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  hole: string,
): SpotDrag | null {
  const found = piece.block.drillHoles.find((candidate) => candidate.id === hole);
  return found === undefined ? null : startSpot(pointer, scene, piece, { kind: 'drill-hole', hole }, found.at);
}

export function startGrainEnd(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  end: 'start' | 'end',
): SpotDrag | null {
  const at = piece.block.grainline?.[end];
  return at === undefined ? null : startSpot(pointer, scene, piece, { kind: 'grain-end', end }, at);
}

function startSpot(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  spot: SpotDrag['spot'],
  at: Point,
): SpotDrag {
  const targets = snapTargets(scene, [placed(piece, at)]);
  return { ...startDrag(pointer, scene, at), kind: 'spot', piece: piece.id, spot, targets };
}

/** Moves a drill hole or one end of the grainline. */
export function dragSpot(drag: SpotDrag, event: TableEvent, scene: TableScene): Step<SpotDrag> {
  const piece = pieceOf(scene, drag.piece);
  if (piece === null) return { state: null, preview: null };
  const grain = piece.block.grainline;
  const from = drag.spot.kind === 'grain-end' && grain ? grain[drag.spot.end === 'start' ? 'end' : 'start'] : null;
  return reduceDrag(drag, event, scene, {
    cursor: 'move',
    same: (a, b) => a.x === b.x && a.y === b.y,
    valueAt: (right, down, pointer) => {
      const start = placed(piece, drag.initial);
      const snapped = snapPoint(tablePoint(start.across + right, start.down + down), {
        targets: drag.targets,
        reach: reachMm('snap', pointer.kind, scene.camera),
        from: from === null ? null : placed(piece, from),
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        free: pointer.alt,
      });
      return { value: own(piece, snapped.at), word: snapped.word, marks: snapped.marks };
    },
    says: (value) =>
      from === null
        ? `Moved ${formatLength(distance(drag.initial, value), scene.unit)}`
        : `Grainline ${formatLength(distance(from, value), scene.unit)} long`,
    order: (value) => spotOrder(drag.piece, drag.spot, value),
  });
}

export function notchOrder(piece: string, notch: string, along: number): Order {
  return (commands, mode) =>
    commands.changeBlock(
      'Move a notch',
      piece,
      (block) => ({
        ...block,
        notches: block.notches.map((other) => (other.id === notch ? { ...other, distance: along } : other)),
      }),
      mode,
    );
}

export function spotOrder(piece: string, spot: SpotDrag['spot'], to: Point): Order {
  return (commands, mode) => {
    if (spot.kind === 'drill-hole') {
      return commands.changeBlock(
        'Move a drill hole',
        piece,
        (block) => ({
          ...block,
          drillHoles: block.drillHoles.map((hole) => (hole.id === spot.hole ? { ...hole, at: to } : hole)),
        }),
        mode,
      );
    }
    return commands.changeBlock(
      'Move the grainline',
      piece,
      (block) => (block.grainline ? { ...block, grainline: { ...block.grainline, [spot.end]: to } } : block),
      mode,
    );
  };
}
