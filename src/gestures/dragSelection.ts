import type { Selection } from '../store/appState';
import { type BlendDrag, dragBlend, startBlend } from './blendDrag';
import { type DartEndDrag, dragDartEnd, startDartEnd } from './dartDrag';
import { type DartOpeningDrag, dragDartOpening, startDartOpening } from './dartOpening';
import { dragFullness, type FullnessDrag, startFullness } from './fullnessLine';
import type { PointerSample, Step, TableEvent } from './gesture';
import {
  dragHemDrop,
  dragHemHandle,
  type HemDropDrag,
  type HemHandleDrag,
  startHemDrop,
  startHemHandle,
} from './hemDrag';
import {
  dragNotch,
  dragSpot,
  type NotchDrag,
  type SpotDrag,
  startDrillHole,
  startGrainEnd,
  startNotch,
} from './markDrag';
import { dragNode, type NodeDrag, startNode } from './nodeDrag';
import { dragOpening, type OpeningDrag, startOpening } from './openingDrag';
import { pieceOf, type TableScene } from './scene';
import { dragSlash, type SlashDrag, startSlash } from './slashLine';

/** Any selected thing held by the pointer. */
export type SelectionDrag =
  | FullnessDrag
  | SlashDrag
  | OpeningDrag
  | DartOpeningDrag
  | DartEndDrag
  | HemHandleDrag
  | HemDropDrag
  | BlendDrag
  | NodeDrag
  | NotchDrag
  | SpotDrag;

/** Takes hold of a selectable thing; null when it cannot be dragged here. */
export function startSelectionDrag(
  selection: Selection,
  pointer: PointerSample,
  scene: TableScene,
): SelectionDrag | null {
  const piece = pieceOf(scene, selection.piece);
  if (piece === null) return null;
  switch (selection.kind) {
    case 'fullness-line':
      return startFullness(pointer, scene, piece);
    case 'slash':
      return startSlash(pointer, scene, piece, selection.slash);
    case 'opening':
      return startOpening(pointer, scene, piece, selection.slash);
    case 'dart-opening':
      return startDartOpening(pointer, scene, piece, selection.dart);
    case 'dart-end':
      return startDartEnd(pointer, scene, piece, selection.dart, selection.end);
    case 'hem-handle':
      return startHemHandle(pointer, scene, piece, selection.end);
    case 'hem-drop':
      return startHemDrop(pointer, scene, piece, selection.end);
    case 'blend':
      return startBlend(pointer, scene, piece, selection.end);
    case 'node':
      return startNode(pointer, scene, piece, selection, selection.handle ?? null);
    case 'notch':
      return startNotch(pointer, scene, piece, selection.notch);
    case 'drill-hole':
      return startDrillHole(pointer, scene, piece, selection.hole);
    case 'grain-end':
      return startGrainEnd(pointer, scene, piece, selection.end);
    case 'edge':
      return null;
  }
}

export function dragSelection(state: SelectionDrag, event: TableEvent, scene: TableScene): Step<SelectionDrag> {
  switch (state.kind) {
    case 'fullness-line':
      return dragFullness(state, event, scene);
    case 'slash':
      return dragSlash(state, event, scene);
    case 'opening':
      return dragOpening(state, event, scene);
    case 'dart-opening':
      return dragDartOpening(state, event, scene);
    case 'dart-end':
      return dragDartEnd(state, event, scene);
    case 'hem-handle':
      return dragHemHandle(state, event, scene);
    case 'hem-drop':
      return dragHemDrop(state, event, scene);
    case 'blend':
      return dragBlend(state, event, scene);
    case 'node':
      return dragNode(state, event, scene);
    case 'notch':
      return dragNotch(state, event, scene);
    case 'spot':
      return dragSpot(state, event, scene);
  }
}
