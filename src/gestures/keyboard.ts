import { pathLength, pathPointAt } from '../geometry/path';
import { add, dot, type Point, point, scale } from '../geometry/point';
import type { LengthUnit } from '../pattern/garment';
import { findEdge } from '../pattern/lookUp';
import type { Camera, Selection } from '../store/appState';
import { mmPerUnit } from '../units/length';
import { blendOrder } from './blendDrag';
import { blendView } from './blendView';
import { panBy, rulerSize, zoomAbout } from './camera';
import { nudgeDartEnd } from './dartDrag';
import { closedDartOf, dartOpeningOrder } from './dartOpening';
import { fanView } from './fanView';
import { fullnessOrder } from './fullnessLine';
import type { Order } from './gesture';
import { type Handle, handlesOf, sameSelection } from './handles';
import { hemDropOrder, hemHandleOrder } from './hemDrag';
import { notchOrder, spotOrder } from './markDrag';
import { nodeOrder } from './nodeDrag';
import { openingAtHem, openingOrder, openTogether } from './openingDrag';
import { findNode } from './outlineEdit';
import { pieceOf, type ScenePiece, type TableScene } from './scene';
import { acrossRange, slashOrder } from './slashLine';
import { trueView } from './trueView';

export type Direction = 'left' | 'right' | 'up' | 'down';

const directions: Readonly<Record<Direction, Point>> = {
  left: point(-1, 0),
  right: point(1, 0),
  up: point(0, -1),
  down: point(0, 1),
};

/** How far one arrow press moves a thing, mm: 1 mm or 1/16 in, ten times that with Shift. */
export function nudgeStep(unit: LengthUnit, large: boolean): number {
  return (unit === 'in' ? mmPerUnit.in / 16 : 1) * (large ? 10 : 1);
}

/**
 * The command that moves the selected thing by `step` mm in a direction of the screen; null when it cannot go that
 * way. Every nudge is one undo step. An opening grows with right and up, and shrinks with left and down.
 */
export function nudge(scene: TableScene, selection: Selection, direction: Direction, step: number): Order | null {
  const piece = pieceOf(scene, selection.piece);
  if (piece === null) return null;
  const way = directions[direction];
  switch (selection.kind) {
    case 'fullness-line':
      return piece.fan?.fullness == null || way.y === 0
        ? null
        : fullnessOrder(piece.id, Math.max(0, piece.fan.fullness.downSide + way.y * step));
    case 'slash':
      return nudgeSlash(piece, selection.slash, way, step);
    case 'opening': {
      const opening = openingAtHem(piece, selection.slash);
      if (opening === null || piece.fan === null) return null;
      return openingOrder(piece.id, selection.slash, opening + (way.x - way.y) * step, openTogether(piece.fan));
    }
    case 'dart-opening': {
      const view = closedDartOf(piece, selection.dart);
      if (view === null) return null;
      return dartOpeningOrder(piece.id, view.closed, view.closed.opening + (way.x - way.y) * step);
    }
    case 'dart-end':
      return nudgeDartEnd(piece, selection.dart, selection.end, way, step);
    case 'hem-handle':
    case 'hem-drop':
      return nudgeHem(piece, selection, way, step);
    case 'blend': {
      const blend = blendView(piece);
      if (blend === null || piece.trueing === null || way.y === 0) return null;
      const longer = selection.end === 'up' ? -way.y : way.y;
      const length = Math.max(0, blend.ends[selection.end].length + longer * step);
      return blendOrder(piece.id, piece.trueing, selection.end, length);
    }
    case 'notch':
      return nudgeNotch(piece, selection.notch, way, step);
    case 'drill-hole': {
      const hole = piece.block.drillHoles.find((candidate) => candidate.id === selection.hole);
      return hole === undefined
        ? null
        : spotOrder(piece.id, { kind: 'drill-hole', hole: hole.id }, add(hole.at, scale(way, step)));
    }
    case 'grain-end': {
      const at = piece.block.grainline?.[selection.end];
      return at === undefined
        ? null
        : spotOrder(piece.id, { kind: 'grain-end', end: selection.end }, add(at, scale(way, step)));
    }
    case 'node': {
      const node = findNode(piece.block, selection);
      const handle = selection.handle ?? null;
      const at = handle === null ? node?.at : handle === 'in' ? node?.handleIn : node?.handleOut;
      return at == null ? null : nodeOrder(piece.id, selection, handle, add(at, scale(way, step)), false);
    }
    case 'edge':
      return null;
  }
}

function nudgeSlash(piece: ScenePiece, slash: string, way: Point, step: number): Order | null {
  const line = piece.fan?.slashes.find((candidate) => candidate.id === slash);
  if (piece.fan === null || piece.fanned === null || line === undefined || way.x === 0) return null;
  const view = fanView(piece.fanned, piece.fan);
  const towards = Math.sign(dot(way, view.towardsSide));
  const [least, most] = acrossRange(piece.fan, slash, view.width);
  const across = Math.min(most, Math.max(least, line.across + (towards * step) / view.width));
  return across === line.across ? null : slashOrder(piece.id, slash, across);
}

function nudgeHem(
  piece: ScenePiece,
  selection: Extract<Selection, { kind: 'hem-handle' | 'hem-drop' }>,
  way: Point,
  step: number,
): Order | null {
  const view = trueView(piece.worked, piece.fan);
  if (view === null || piece.trueing === null) return null;
  const end = view.ends[selection.end];
  if (selection.kind === 'hem-drop') {
    const longer = Math.sign(dot(way, end.longer));
    if (way.y === 0 || longer === 0) return null;
    return hemDropOrder(piece.id, piece.trueing, selection.end, piece.trueing.hem.drop[selection.end] + longer * step);
  }
  // A handle lies along the hem, more or less level; the arrow that points along it lengthens it.
  const towards = way.x === 0 ? -way.y : Math.sign(dot(way, end.into));
  if (towards === 0) return null;
  return hemHandleOrder(piece.id, piece.trueing, selection.end, Math.max(step, end.handleLength + towards * step));
}

function nudgeNotch(piece: ScenePiece, id: string, way: Point, step: number): Order | null {
  const notch = piece.block.notches.find((candidate) => candidate.id === id);
  const edge = notch === undefined ? undefined : findEdge(piece.block, notch.edge);
  if (notch === undefined || edge === undefined) return null;
  const { tangent } = pathPointAt(edge.path, notch.distance);
  const towards = dot(tangent, way);
  // An arrow across the edge would not say which way along it is meant.
  if (Math.abs(towards) < 0.3) return null;
  const along = Math.min(pathLength(edge.path), Math.max(0, notch.distance + Math.sign(towards) * step));
  return along === notch.distance ? null : notchOrder(piece.id, id, along);
}

/** The handle that Tab goes to next; null past the last one, where the focus moves on. */
export function nextHandle(scene: TableScene, backwards: boolean): Handle | null {
  const handles = handlesOf(scene);
  const at = handles.findIndex((handle) => sameSelection(handle.selection, scene.selection));
  if (at < 0) return (backwards ? handles.at(-1) : handles[0]) ?? null;
  return handles[at + (backwards ? -1 : 1)] ?? null;
}

/** How far the arrows push the sheet, CSS pixels. */
const panStep = 60;
const zoomStep = 1.25;

/** The camera after a key: + and - zoom about the middle, arrows push the sheet. null for any other key. */
export function cameraForKey(key: string, scene: TableScene): Camera | null {
  const { camera, view } = scene;
  const middle = { left: (view.width + rulerSize) / 2, top: (view.height + rulerSize) / 2 };
  switch (key) {
    case '+':
    case '=':
      return zoomAbout(camera, view, middle, zoomStep);
    case '-':
    case '_':
      return zoomAbout(camera, view, middle, 1 / zoomStep);
    case 'ArrowLeft':
      return panBy(camera, panStep, 0);
    case 'ArrowRight':
      return panBy(camera, -panStep, 0);
    case 'ArrowUp':
      return panBy(camera, 0, panStep);
    case 'ArrowDown':
      return panBy(camera, 0, -panStep);
    default:
      return null;
  }
}
