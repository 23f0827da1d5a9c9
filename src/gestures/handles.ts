import { pathPointAt } from '../geometry/path';
import type { Point } from '../geometry/point';
import { findEdge } from '../pattern/lookUp';
import { nameInSentence } from '../pattern/nameInSentence';
import type { Selection } from '../store/appState';
import { formatLength } from '../units/length';
import { besideHinge } from './blendDrag';
import { blendEnds, blendView } from './blendView';
import { fanView } from './fanView';
import type { Cursor } from './gesture';
import { openingAtHem } from './openingDrag';
import { outlineNodes } from './outlineEdit';
import { activePieceOf, isRedrawable, type ScenePiece, type TableScene } from './scene';
import { hemEnds, trueView } from './trueView';

/**
 * How a handle is drawn: a round knob is pulled, a square one is a point of the outline, a bar slides a line, and a
 * ring goes round a mark that stays visible in it.
 */
export type HandleShape = 'knob' | 'node' | 'curve' | 'slide' | 'ring';

/** Something that can be taken hold of, by pointer or by keyboard. */
export interface Handle {
  readonly selection: Selection;
  readonly shape: HandleShape;
  /** mm in the piece's frame. */
  readonly at: Point;
  /** For a curve handle: the node it belongs to, joined by a line. */
  readonly stem: Point | null;
  readonly cursor: Cursor;
  /** What it is and what it stands at, for the hint and for a reader of the screen. */
  readonly sentence: string;
}

/** The handles of the active piece in the present place, in the order in which Tab visits them. */
export function handlesOf(scene: TableScene): readonly Handle[] {
  const piece = activePieceOf(scene);
  if (piece === null) return [];
  switch (scene.place) {
    case 'fan':
      return fanHandles(scene, piece);
    case 'true':
      return trueHandles(scene, piece);
    case 'mark':
      return isRedrawable(scene, piece) ? markHandles(scene, piece) : [];
    default:
      return [];
  }
}

function fanHandles(scene: TableScene, piece: ScenePiece): Handle[] {
  const { fan, fanned, id } = piece;
  if (fan === null || fanned === null) return [];
  const view = fanView(fanned, fan);
  const handles: Handle[] = [];
  if (fan.fullness !== null && view.sideHinge !== null && view.fullness !== null) {
    const length = formatLength(fan.fullness.downSide, scene.unit);
    handles.push({
      selection: { kind: 'fullness-line', piece: id },
      shape: 'slide',
      at: view.sideHinge,
      stem: null,
      cursor: 'ns-resize',
      sentence: `Fullness line, ${length} down the side seam`,
    });
  }
  view.slashes.forEach((slash, index) => {
    const line = fan.slashes.find((candidate) => candidate.id === slash.id)!;
    const across = formatLength(line.across * view.width, scene.unit);
    handles.push({
      selection: { kind: 'slash', piece: id, slash: slash.id },
      shape: 'slide',
      at: slash.hinge,
      stem: null,
      cursor: 'ew-resize',
      sentence: `Slash line ${index + 1}, ${across} from the centre line`,
    });
    handles.push({
      selection: { kind: 'opening', piece: id, slash: slash.id },
      shape: 'knob',
      at: slash.hemSide,
      stem: null,
      cursor: 'ew-resize',
      sentence: `Opening of slash line ${index + 1}, ${formatLength(openingAtHem(piece, slash.id) ?? 0, scene.unit)} at the hem`,
    });
  });
  view.darts.forEach(({ closed, hemSide }, index) => {
    handles.push({
      selection: { kind: 'dart-opening', piece: id, dart: closed.dart },
      shape: 'knob',
      at: hemSide,
      stem: null,
      cursor: 'ew-resize',
      sentence: `Opening from dart ${index + 1}, ${formatLength(closed.opening, scene.unit)} at the hem`,
    });
  });
  return handles;
}

function trueHandles(scene: TableScene, piece: ScenePiece): Handle[] {
  const view = trueView(piece.worked, piece.fan);
  if (view === null || piece.trueing === null) return [];
  const { drop } = piece.trueing.hem;
  const hemHandles = hemEnds.flatMap((end): Handle[] => {
    const { corner, handle, handleLength } = view.ends[end];
    const where = end === 'centre' ? 'centre line' : 'side seam';
    return [
      {
        selection: { kind: 'hem-drop', piece: piece.id, end },
        shape: 'node',
        at: corner,
        stem: null,
        cursor: 'ns-resize',
        sentence: `Hem corner at the ${where}, ${formatLength(drop[end], scene.unit)} added`,
      },
      {
        selection: { kind: 'hem-handle', piece: piece.id, end },
        shape: 'curve',
        at: handle,
        stem: corner,
        cursor: 'move',
        sentence: `Hem handle at the ${where}, ${formatLength(handleLength, scene.unit)} long`,
      },
    ];
  });
  return [...hemHandles, ...blendHandles(scene, piece)];
}

function blendHandles(scene: TableScene, piece: ScenePiece): Handle[] {
  const blend = blendView(piece);
  if (blend === null) return [];
  return blendEnds.map((end) => {
    const { at, length } = blend.ends[end];
    return {
      selection: { kind: 'blend', piece: piece.id, end },
      shape: 'knob',
      at,
      stem: null,
      cursor: 'move',
      sentence: `Side seam blend, from ${formatLength(length, scene.unit)} ${besideHinge(end)}`,
    };
  });
}

function markHandles(scene: TableScene, piece: ScenePiece): Handle[] {
  const { block, id } = piece;
  const handles: Handle[] = [];
  for (const node of outlineNodes(block)) {
    const place = { piece: id, edge: node.edge, segment: node.segment };
    const name = nameInSentence(findEdge(block, node.edge)!.name);
    handles.push({
      selection: { kind: 'node', ...place },
      shape: 'node',
      at: node.at,
      stem: null,
      cursor: 'move',
      sentence: node.corner ? `Corner where the ${name} starts` : `Point ${node.segment} of the ${name}`,
    });
    for (const handle of ['in', 'out'] as const) {
      const at = handle === 'in' ? node.handleIn : node.handleOut;
      if (at === null || !showsCurveHandles(scene, id, node.edge, node.segment)) continue;
      handles.push({
        selection: { kind: 'node', ...place, handle },
        shape: 'curve',
        at,
        stem: node.at,
        cursor: 'move',
        sentence: `Curve handle ${handle === 'in' ? 'before' : 'after'} that point`,
      });
    }
  }
  for (const notch of block.notches) {
    const edge = findEdge(block, notch.edge);
    if (edge === undefined) continue;
    handles.push({
      selection: { kind: 'notch', piece: id, notch: notch.id },
      shape: 'ring',
      at: pathPointAt(edge.path, notch.distance).point,
      stem: null,
      cursor: 'move',
      sentence: `Notch on the ${nameInSentence(edge.name)}, ${formatLength(notch.distance, scene.unit)} along`,
    });
  }
  for (const hole of block.drillHoles) {
    handles.push({
      selection: { kind: 'drill-hole', piece: id, hole: hole.id },
      shape: 'ring',
      at: hole.at,
      stem: null,
      cursor: 'move',
      sentence: 'Drill hole',
    });
  }
  block.darts.forEach((dart, index) => {
    const ends = [
      ['first', dart.legs[0], 'One end of the mouth'],
      ['second', dart.legs[1], 'Other end of the mouth'],
      ['apex', dart.apex, 'Point'],
    ] as const;
    for (const [end, at, what] of ends) {
      handles.push({
        selection: { kind: 'dart-end', piece: id, dart: dart.id, end },
        shape: 'ring',
        at,
        stem: null,
        cursor: 'move',
        sentence: `${what} of dart ${index + 1}`,
      });
    }
  });
  for (const end of ['start', 'end'] as const) {
    const at = block.grainline?.[end];
    if (at === undefined) continue;
    handles.push({
      selection: { kind: 'grain-end', piece: id, end },
      shape: 'ring',
      at,
      stem: null,
      cursor: 'move',
      sentence: end === 'start' ? 'One end of the grainline' : 'Other end of the grainline',
    });
  }
  return handles;
}

/** Curve handles clutter an outline, so they show only at the selected node and its two neighbours. */
function showsCurveHandles(scene: TableScene, piece: string, edge: string, segment: number): boolean {
  const { selection } = scene;
  return (
    selection?.kind === 'node' &&
    selection.piece === piece &&
    selection.edge === edge &&
    Math.abs(selection.segment - segment) <= 1
  );
}

export function sameSelection(a: Selection | null, b: Selection | null): boolean {
  if (a === null || b === null) return a === b;
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...names].every((name) => a[name as keyof Selection] === b[name as keyof Selection]);
}
