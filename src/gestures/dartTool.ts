import { nearestOnPath } from '../geometry/nearest';
import { pathPointAt } from '../geometry/path';
import { distance, mix, type Point } from '../geometry/point';
import { addDart, type DartPlaces } from '../pattern/addDart';
import type { BlockPiece } from '../pattern/garment';
import { findEdge } from '../pattern/lookUp';
import { nameInSentence } from '../pattern/nameInSentence';
import type { Edge } from '../pattern/piece';
import { formatLength } from '../units/length';
import { letGo } from './drag';
import { type ScreenPoint, screenDistance, type TablePoint, tableAt } from './frames';
import type { Mark, Order, PointerSample, Step, TableEvent } from './gesture';
import { edgeUnder, freeId, lockedSentence, redrawableUnder, snapFor } from './placeMark';
import { reachMm, reachPixels } from './reach';
import { isRedrawable, own, placed, type ScenePiece, type TableScene } from './scene';

/** A dart being set point by point: first leg, second leg on the same edge, then its point. It goes on between the clicks. */
export interface DrawDart {
  readonly kind: 'dart';
  readonly piece: string;
  /** As it was at the first press; what lies on the table shows the dart already. */
  readonly block: BlockPiece;
  /** The legs set so far: mm along their edge. */
  readonly edge: string | null;
  readonly first: number | null;
  readonly second: number | null;
  /** The press that may become a click. */
  readonly press: { readonly pointer: number; readonly at: ScreenPoint } | null;
}

const firstHint = 'Click an edge where the dart begins';

/** What the tool would do under the pointer before anything is set. */
export function hoverDart(pointer: PointerSample, scene: TableScene): Pick<Step<never>, 'marks' | 'hint' | 'cursor'> {
  const piece = redrawableUnder(pointer, scene);
  if (piece === null) return { marks: [], hint: lockedSentence(scene), cursor: 'default' };
  const spot = edgeUnder(tableAt(scene.camera, scene.view, pointer.at), pointer, scene, piece);
  if (spot === null) return { marks: [], hint: firstHint, cursor: 'crosshair' };
  const along = `${formatLength(spot.along, scene.unit)} along`;
  return {
    marks: [{ kind: 'snap', at: placed(piece, spot.point), word: along }],
    hint: `Dart on the ${nameInSentence(spot.edge.name)}, first leg ${along}`,
    cursor: 'crosshair',
  };
}

export function startDart(pointer: PointerSample, scene: TableScene): DrawDart | null {
  const piece = redrawableUnder(pointer, scene);
  if (piece === null || edgeUnder(tableAt(scene.camera, scene.view, pointer.at), pointer, scene, piece) === null) {
    return null;
  }
  const press = { pointer: pointer.id, at: pointer.at };
  return { kind: 'dart', piece: piece.id, block: piece.block, edge: null, first: null, second: null, press };
}

/** Sets the next point at every click and shows the dart meanwhile. Escape takes back the last point. */
export function drawDart(state: DrawDart, event: TableEvent, scene: TableScene): Step<DrawDart> {
  const piece = scene.pieces.find((candidate) => candidate.id === state.piece);
  if (scene.tool !== 'dart' || piece === undefined || !isRedrawable(scene, piece)) return { ...letGo, marks: [] };
  if (event.type === 'key') return event.key === 'Escape' ? takeBack(state) : { state };
  if (!('pointer' in event)) return { state };
  const { pointer } = event;
  switch (event.type) {
    case 'press':
      return pointer.button === 0 ? { state: { ...state, press: { pointer: pointer.id, at: pointer.at } } } : { state };
    case 'cancel':
      return state.first === null ? { ...letGo, marks: [] } : { state: { ...state, press: null } };
    case 'leave':
      return { state, preview: null, marks: [] };
    case 'move':
      return show(state, pointer, scene, piece);
    case 'release':
      return isClick(state, pointer) ? click({ ...state, press: null }, pointer, scene, piece) : letUp(state);
  }
}

/** A press that wandered off sets nothing; before the first leg it ends the dart. */
function letUp(state: DrawDart): Step<DrawDart> {
  return state.first === null ? { ...letGo, marks: [] } : { state: { ...state, press: null } };
}

function isClick({ press }: DrawDart, pointer: PointerSample): boolean {
  return (
    press !== null &&
    press.pointer === pointer.id &&
    screenDistance(pointer.at, press.at) <= 4 * reachPixels('drag', pointer.kind)
  );
}

function takeBack(state: DrawDart): Step<DrawDart> {
  if (state.second === null) return { ...letGo, preview: null, marks: [], hint: null };
  return { state: { ...state, second: null }, preview: null, marks: [], hint: 'Click the same edge for the other leg' };
}

function click(state: DrawDart, pointer: PointerSample, scene: TableScene, piece: ScenePiece): Step<DrawDart> {
  const at = tableAt(scene.camera, scene.view, pointer.at);
  if (state.edge === null || state.first === null) {
    const spot = edgeUnder(at, pointer, scene, piece);
    if (spot === null) return { ...letGo, marks: [] };
    const next = { ...state, edge: spot.edge.id, first: spot.along };
    return { state: next, hint: `Click the ${nameInSentence(spot.edge.name)} again for the other leg` };
  }
  if (state.second === null) {
    const leg = otherLeg(findEdge(state.block, state.edge), at, pointer, scene, piece);
    if (leg === null || leg.along === state.first) return show(state, pointer, scene, piece);
    return { state: { ...state, second: leg.along }, hint: 'Click where the dart comes to its point' };
  }
  const apex = own(piece, snappedApex(state, at, pointer, scene, piece).at);
  const places = { edge: state.edge, from: state.first, to: state.second, apex };
  const made = addDart(state.block, 'dart', places);
  if (!made.ok) return { state, preview: null, hint: made.sentence };
  return { ...letGo, preview: null, marks: [], hint: null, commit: dartOrder(piece.id, places) };
}

/** What is drawn while the pointer is about. */
function show(state: DrawDart, pointer: PointerSample, scene: TableScene, piece: ScenePiece): Step<DrawDart> {
  const edge = state.edge === null ? undefined : findEdge(state.block, state.edge);
  if (edge === undefined || state.first === null) return { state, cursor: 'crosshair' };
  const at = tableAt(scene.camera, scene.view, pointer.at);
  const name = nameInSentence(edge.name);
  const start = pathPointAt(edge.path, state.first).point;
  if (state.second === null) {
    const leg = otherLeg(edge, at, pointer, scene, piece);
    if (leg === null) {
      const only: Mark = { kind: 'snap', at: placed(piece, start), word: 'first leg' };
      return { state, marks: [only], hint: `Click the ${name} for the other leg`, cursor: 'crosshair' };
    }
    const width = formatLength(distance(start, leg.point), scene.unit);
    const mouth: Mark = { kind: 'measure', from: placed(piece, start), to: placed(piece, leg.point), text: width };
    return { state, marks: [mouth], hint: `Dart ${width} wide on the ${name}`, cursor: 'crosshair' };
  }
  const snapped = snappedApex(state, at, pointer, scene, piece);
  const places = { edge: edge.id, from: state.first, to: state.second, apex: own(piece, snapped.at) };
  const made = addDart(state.block, 'dart', places);
  if (!made.ok) return { state, preview: null, marks: [], hint: made.sentence, cursor: 'crosshair' };
  const [a, b] = mouthOf(edge, state.first, state.second);
  const size = `${formatLength(distance(a, b), scene.unit)} wide, ${formatLength(distance(mix(a, b, 0.5), places.apex), scene.unit)} long`;
  return {
    state,
    preview: dartOrder(piece.id, places),
    marks: snapped.marks,
    hint: `Dart ${size}`,
    cursor: 'crosshair',
  };
}

/** The point snaps like a line drawn from the middle of the mouth. */
function snappedApex(state: DrawDart, at: TablePoint, pointer: PointerSample, scene: TableScene, piece: ScenePiece) {
  const edge = findEdge(state.block, state.edge ?? '');
  if (edge === undefined || state.first === null || state.second === null) return snapFor(at, pointer, scene, null);
  const [a, b] = mouthOf(edge, state.first, state.second);
  return snapFor(at, pointer, scene, placed(piece, mix(a, b, 0.5)));
}

function mouthOf(edge: Edge, first: number, second: number): readonly [Point, Point] {
  return [pathPointAt(edge.path, first).point, pathPointAt(edge.path, second).point];
}

/** The place on the first leg's own edge under the pointer. */
function otherLeg(
  edge: Edge | undefined,
  at: TablePoint,
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
): { readonly along: number; readonly point: Point } | null {
  if (edge === undefined) return null;
  const near = nearestOnPath(edge.path, own(piece, at));
  return near.distance <= 2 * reachMm('line', pointer.kind, scene.camera) ? near : null;
}

/** Adds a dart as one step; what `addDart` refuses changes nothing. */
export function dartOrder(piece: string, places: DartPlaces): Order {
  return (commands, mode) =>
    commands.changeBlock(
      'Dart',
      piece,
      (block) => {
        const made = addDart(block, freeId('dart', block.darts), places);
        return made.ok ? made.value : block;
      },
      mode,
    );
}

export function takeAwayDart(piece: string, dart: string): Order {
  return (commands, mode) =>
    commands.changeBlock(
      'Take away a dart',
      piece,
      (block) => ({ ...block, darts: block.darts.filter((other) => other.id !== dart) }),
      mode,
    );
}
