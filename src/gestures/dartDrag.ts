import { nearestOnPath } from '../geometry/nearest';
import { pathLength, pathPointAt } from '../geometry/path';
import { add, distance, dot, mix, type Point, point, scale } from '../geometry/point';
import type { DartPlaces } from '../pattern/addDart';
import type { BlockPiece } from '../pattern/garment';
import { findEdge } from '../pattern/lookUp';
import { moveDart, placesOf } from '../pattern/moveDart';
import { formatLength } from '../units/length';
import { type Drag, reduceDrag, startDrag } from './drag';
import { tablePoint } from './frames';
import type { Mark, Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import { own, placed, type ScenePiece, type TableScene } from './scene';
import { type SnapTargets, snapPoint, snapTargets } from './snapping';
import { snapNumber, wholeStep } from './wholeUnits';

/** The part of a dart that is held: its point, or an end of its mouth. */
export type DartEnd = 'apex' | 'first' | 'second';

/** A dart held by its point or by an end of its mouth; the value is where all of it lies. */
export interface DartEndDrag extends Drag<DartPlaces> {
  readonly kind: 'dart-end';
  readonly piece: string;
  readonly dart: string;
  readonly end: DartEnd;
  /** As it was at the press; what lies on the table shows the change already. */
  readonly block: BlockPiece;
  readonly targets: SnapTargets;
}

export function startDartEnd(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  id: string,
  end: DartEnd,
): DartEndDrag | null {
  const places = placesIn(piece.block, id);
  if (places === null) return null;
  const targets = snapTargets(scene, [placed(piece, places.apex)]);
  const drag = startDrag(pointer, scene, places);
  return { ...drag, kind: 'dart-end', piece: piece.id, dart: id, end, block: piece.block, targets };
}

/** Moves the point of a dart, or slides an end of its mouth along the edge. What cannot be a dart stays as it was. */
export function dragDartEnd(drag: DartEndDrag, event: TableEvent, scene: TableScene): Step<DartEndDrag> {
  const piece = scene.pieces.find(({ id }) => id === drag.piece);
  if (piece === undefined) return { state: null, preview: null };
  return reduceDrag(drag, event, scene, {
    cursor: 'move',
    same: samePlaces,
    valueAt: (right, down, pointer) => {
      const wanted =
        drag.end === 'apex'
          ? apexAt(drag, right, down, pointer, scene, piece)
          : mouthAt(drag, drag.end, right, down, pointer, scene);
      return moveDart(drag.block, drag.dart, wanted.value).ok ? wanted : { value: drag.value };
    },
    says: (value) => sizeOf(drag.block, value, scene),
    order: (value) => moveDartOrder(drag.piece, drag.dart, value),
  });
}

interface Wanted {
  readonly value: DartPlaces;
  readonly word: string | null;
  readonly marks?: readonly Mark[];
}

function apexAt(
  { initial, block, targets }: DartEndDrag,
  right: number,
  down: number,
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
): Wanted {
  const start = placed(piece, initial.apex);
  const snapped = snapPoint(tablePoint(start.across + right, start.down + down), {
    targets,
    reach: reachMm('snap', pointer.kind, scene.camera),
    from: placed(piece, mix(...mouthOf(block, initial), 0.5)),
    step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
    free: pointer.alt,
  });
  return { value: { ...initial, apex: own(piece, snapped.at) }, word: snapped.word, marks: snapped.marks };
}

function mouthAt(
  { initial, block }: DartEndDrag,
  end: 'first' | 'second',
  right: number,
  down: number,
  pointer: PointerSample,
  scene: TableScene,
): Wanted {
  const [first, second] = mouthOf(block, initial);
  const held = end === 'first' ? first : second;
  const other = end === 'first' ? initial.to : initial.from;
  const raw = nearestOnPath(findEdge(block, initial.edge)!.path, point(held.x + right, held.y + down)).along;
  const step = wholeStep(scene.unit, scene.camera.pixelsPerMm);
  // Counted from the other end, so that the mouth has a width in whole steps.
  const snapped = snapNumber(raw - other, {
    stops: [{ value: (end === 'first' ? initial.from : initial.to) - other, word: 'as it was' }],
    step,
    reach: reachMm('snap', pointer.kind, scene.camera) / 2,
    free: pointer.alt,
  });
  return { value: withEnd(block, initial, end, other + snapped.value), word: snapped.word };
}

function withEnd(block: BlockPiece, places: DartPlaces, end: 'first' | 'second', along: number): DartPlaces {
  const within = Math.min(pathLength(findEdge(block, places.edge)!.path), Math.max(0, along));
  return end === 'first' ? { ...places, from: within } : { ...places, to: within };
}

function placesIn(block: BlockPiece, id: string): DartPlaces | null {
  const dart = block.darts.find((one) => one.id === id);
  return dart === undefined ? null : placesOf(block, dart);
}

function mouthOf(block: BlockPiece, { edge, from, to }: DartPlaces): readonly [Point, Point] {
  const { path } = findEdge(block, edge)!;
  return [pathPointAt(path, from).point, pathPointAt(path, to).point];
}

function sizeOf(block: BlockPiece, places: DartPlaces, { unit }: TableScene): string {
  const mouth = mouthOf(block, places);
  const length = distance(mix(...mouth, 0.5), places.apex);
  return `Dart ${formatLength(distance(...mouth), unit)} wide, ${formatLength(length, unit)} long`;
}

function samePlaces(a: DartPlaces, b: DartPlaces): boolean {
  return a.from === b.from && a.to === b.to && a.apex.x === b.apex.x && a.apex.y === b.apex.y;
}

/** Lays a dart elsewhere as one step; what `moveDart` refuses changes nothing. */
export function moveDartOrder(piece: string, dart: string, places: DartPlaces): Order {
  return (commands, mode) =>
    commands.changeBlock(
      'Move a dart',
      piece,
      (block) => {
        const moved = moveDart(block, dart, places);
        return moved.ok ? moved.value : block;
      },
      mode,
    );
}

/** The order behind an arrow key: the point goes the way of the arrow, an end of the mouth slides along its edge. */
export function nudgeDartEnd(
  { id, block }: ScenePiece,
  dart: string,
  end: DartEnd,
  way: Point,
  step: number,
): Order | null {
  const places = placesIn(block, dart);
  if (places === null) return null;
  if (end === 'apex') return moveDartOrder(id, dart, { ...places, apex: add(places.apex, scale(way, step)) });
  const along = end === 'first' ? places.from : places.to;
  const towards = dot(pathPointAt(findEdge(block, places.edge)!.path, along).tangent, way);
  // An arrow across the edge would not say which way along it is meant.
  if (Math.abs(towards) < 0.3) return null;
  return moveDartOrder(id, dart, withEnd(block, places, end, along + Math.sign(towards) * step));
}
