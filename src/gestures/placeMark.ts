import { containsPoint } from '../geometry/area';
import { nearestOnPath } from '../geometry/nearest';
import { distance, type Point } from '../geometry/point';
import { nameInSentence } from '../pattern/nameInSentence';
import type { Edge, NotchStyle, Piece } from '../pattern/piece';
import { formatLength } from '../units/length';
import { letGo } from './drag';
import { type ScreenPoint, screenDistance, type TablePoint, tableAt } from './frames';
import type { Mark, Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm, reachPixels } from './reach';
import { isRedrawable, own, placed, type ScenePiece, type TableScene } from './scene';
import { snapPoint, snapTargets } from './snapping';
import { wholeStep } from './wholeUnits';

/** A grainline being drawn, or a tap that will set a notch or a drill hole. */
export interface PlaceMark {
  readonly kind: 'place-mark';
  readonly tool: 'notch' | 'grain' | 'drill';
  readonly pointer: number;
  readonly piece: string;
  readonly pressedAt: ScreenPoint;
  /** Where the press was, snapped, on the table. */
  readonly from: TablePoint;
}

type MarkTool = PlaceMark['tool'];

/** The shortest grainline worth drawing, mm. */
const shortestGrain = 20;

/** What the tool would do under the pointer; shown while hovering. */
export function hoverMark(
  tool: MarkTool,
  pointer: PointerSample,
  scene: TableScene,
): Pick<Step<never>, 'marks' | 'hint' | 'cursor'> {
  const piece = redrawableUnder(pointer, scene);
  if (piece === null) return { marks: [], hint: lockedSentence(scene), cursor: 'default' };
  const at = tableAt(scene.camera, scene.view, pointer.at);
  if (tool === 'notch') {
    const spot = edgeUnder(at, pointer, scene, piece);
    if (spot === null) return { marks: [], hint: 'Click an edge to set a notch', cursor: 'crosshair' };
    const length = formatLength(spot.along, scene.unit);
    const mark: Mark = { kind: 'snap', at: placed(piece, spot.point), word: `${length} along` };
    return {
      marks: [mark],
      hint: `Notch on the ${nameInSentence(spot.edge.name)}, ${length} along`,
      cursor: 'crosshair',
    };
  }
  const snapped = snapFor(at, pointer, scene, null);
  const hint = tool === 'grain' ? 'Drag along the grain of the fabric' : 'Click to mark a drill hole';
  return { marks: snapped.marks, hint, cursor: 'crosshair' };
}

export function startMark(tool: MarkTool, pointer: PointerSample, scene: TableScene): PlaceMark | null {
  const piece = redrawableUnder(pointer, scene);
  if (piece === null) return null;
  const at = tableAt(scene.camera, scene.view, pointer.at);
  const from = tool === 'notch' ? at : snapFor(at, pointer, scene, null).at;
  return { kind: 'place-mark', tool, pointer: pointer.id, piece: piece.id, pressedAt: pointer.at, from };
}

/** Sets a notch or a drill hole where it was tapped; draws the grainline from press to release. */
export function placeMark(state: PlaceMark, event: TableEvent, scene: TableScene): Step<PlaceMark> {
  if (event.type === 'key' && event.key === 'Escape') return letGo;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  const piece = scene.pieces.find((candidate) => candidate.id === state.piece);
  if (event.type === 'cancel' || piece === undefined) return letGo;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  return state.tool === 'grain'
    ? drawGrain(state, event.type, event.pointer, scene, piece)
    : tapMark(state, event.type, event.pointer, scene, piece);
}

function tapMark(
  state: PlaceMark,
  type: 'move' | 'release',
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
): Step<PlaceMark> {
  if (screenDistance(pointer.at, state.pressedAt) > 4 * reachPixels('drag', pointer.kind)) return letGo;
  if (type === 'move') return { state };
  if (state.tool === 'drill') {
    const at = own(piece, state.from);
    return { ...letGo, commit: addDrillHole(piece.id, at) };
  }
  const spot = edgeUnder(state.from, pointer, scene, piece);
  return spot === null ? letGo : { ...letGo, commit: addNotch(piece.id, spot.edge.id, spot.along, 'single') };
}

function drawGrain(
  state: PlaceMark,
  type: 'move' | 'release',
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
): Step<PlaceMark> {
  const to = snapFor(tableAt(scene.camera, scene.view, pointer.at), pointer, scene, state.from);
  const start = own(piece, state.from);
  const end = own(piece, to.at);
  const length = distance(start, end);
  if (length < shortestGrain)
    return type === 'release' ? letGo : { state, preview: null, marks: [], cursor: 'crosshair' };
  const order = setGrainline(piece.id, start, end);
  if (type === 'release') return { ...letGo, preview: null, commit: order };
  const text = formatLength(length, scene.unit);
  return {
    state,
    preview: order,
    marks: to.marks,
    cursor: 'crosshair',
    hint: to.word === null ? `Grainline ${text}` : `Grainline ${text} (${to.word})`,
  };
}

export function addNotch(piece: string, edge: string, along: number, style: NotchStyle): Order {
  return (commands, mode) =>
    commands.changeBlock(
      'Set a notch',
      piece,
      (block) => ({
        ...block,
        notches: [...block.notches, { id: freeId('notch', block.notches), edge, distance: along, style }],
      }),
      mode,
    );
}

function addDrillHole(piece: string, at: Point): Order {
  return (commands, mode) =>
    commands.changeBlock(
      'Mark a drill hole',
      piece,
      (block) => ({ ...block, drillHoles: [...block.drillHoles, { id: freeId('hole', block.drillHoles), at }] }),
      mode,
    );
}

function setGrainline(piece: string, start: Point, end: Point): Order {
  return (commands, mode) =>
    commands.changeBlock('Draw the grainline', piece, (block) => ({ ...block, grainline: { start, end } }), mode);
}

export function freeId(stem: string, present: readonly { readonly id: string }[]): string {
  const taken = new Set(present.map(({ id }) => id));
  let number = 1;
  while (taken.has(`${stem}-${number}`)) number += 1;
  return `${stem}-${number}`;
}

export function snapFor(at: TablePoint, pointer: PointerSample, scene: TableScene, from: TablePoint | null) {
  return snapPoint(at, {
    targets: snapTargets(scene),
    reach: reachMm('snap', pointer.kind, scene.camera),
    from,
    step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
    free: pointer.alt,
  });
}

/** The piece under the pointer, or just beside it, when it may be redrawn. */
export function redrawableUnder(pointer: PointerSample, scene: TableScene): ScenePiece | null {
  const at = tableAt(scene.camera, scene.view, pointer.at);
  return (
    scene.pieces.find((piece) => {
      if (!isRedrawable(scene, piece)) return false;
      return containsPoint(outlineOf(piece.block), own(piece, at)) || edgeUnder(at, pointer, scene, piece) !== null;
    }) ?? null
  );
}

export function lockedSentence(scene: TableScene): string | null {
  const locked = scene.pieces.some((piece) => piece.block.locked);
  return locked ? 'This block is locked, so its marks stay as they are' : null;
}

function outlineOf(piece: Piece) {
  return piece.edges.flatMap((edge) => edge.path);
}

export function edgeUnder(
  at: TablePoint,
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
): { readonly edge: Edge; readonly along: number; readonly point: Point } | null {
  const p = own(piece, at);
  let reach = 2 * reachMm('line', pointer.kind, scene.camera);
  let best: { edge: Edge; along: number; point: Point } | null = null;
  for (const edge of piece.block.edges) {
    const place = nearestOnPath(edge.path, p);
    if (place.distance > reach) continue;
    reach = place.distance;
    best = { edge, along: place.along, point: place.point };
  }
  return best;
}
