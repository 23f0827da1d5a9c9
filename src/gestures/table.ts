import { type CornerPress, dragCorner, hoverCorner, startCorner } from './cornerTool';
import { type DrawDart, drawDart, hoverDart, startDart } from './dartTool';
import { type DraftNodeDrag, dragDraftNode, hoverOutline, pressOnOutline } from './draftNodes';
import { dragSelection, type SelectionDrag, startSelectionDrag } from './dragSelection';
import { dragFoldLine, type FoldLineDrag, hoverFoldLine, pressOnFoldLine } from './foldLineDrag';
import type { ScreenPoint } from './frames';
import type { Effects, Mark, PointerSample, Step, TableEvent } from './gesture';
import { sameSelection } from './handles';
import { type Hit, hitTest } from './hitTest';
import { hoverMeasure, type Measure, measure, startMeasure } from './measureTool';
import { dragPage, hoverPage, type PageDrag, startPage } from './pageDrag';
import { isPalm, noPalms, notePen, type Palms } from './palms';
import { type Pan, type Pinch, pan, pinch, startPan, startPinch } from './pan';
import { drawPen, hoverPen, type PenPress, penKey, startPen } from './penTool';
import { dragSpot, hoverPicture, type PictureSpotDrag, pressOnPicture } from './pictureSpots';
import { hoverMark, type PlaceMark, placeMark, startMark } from './placeMark';
import type { TableScene } from './scene';
import { wheel } from './wheel';

export type ActiveGesture =
  | SelectionDrag
  | Pan
  | Pinch
  | PenPress
  | CornerPress
  | PlaceMark
  | DrawDart
  | Measure
  | PictureSpotDrag
  | DraftNodeDrag
  | FoldLineDrag
  | PageDrag;

/** Everything the table remembers between events. Plain data. */
export interface TableState {
  readonly active: ActiveGesture | null;
  /** Fingers that are down, in the order they came. */
  readonly fingers: readonly { readonly id: number; readonly at: ScreenPoint }[];
  readonly palms: Palms;
  /** The space bar is held: any press pans. */
  readonly space: boolean;
  /** What the pointer hovers over, for the drawing. */
  readonly hover: Hit | null;
  /** The tape last laid with the measure tool; it stays until the next press or Escape. */
  readonly tape: Mark | null;
}

export interface TableAnswer extends Effects {
  readonly state: TableState;
}

export const idleTable: TableState = {
  active: null,
  fingers: [],
  palms: noPalms,
  space: false,
  hover: null,
  tape: null,
};

/** Routes an event to the gesture under way, or starts the one that fits the place, the tool and what was pressed. */
export function reduceTable(state: TableState, event: TableEvent, scene: TableScene): TableAnswer {
  if (event.type === 'wheel') return { state, camera: wheel(event, scene) };
  if (event.type === 'space') {
    if (state.active !== null) return { state: { ...state, space: event.held } };
    return { state: { ...state, space: event.held }, cursor: event.held ? 'grab' : 'default' };
  }
  if (event.type === 'key') return onKey(state, event, scene);
  return event.pointer.kind === 'touch' ? onTouch(state, event, scene) : onPointer(state, event, scene);
}

function onKey(state: TableState, event: Extract<TableEvent, { type: 'key' }>, scene: TableScene): TableAnswer {
  if (state.active !== null) return advance(state, event, scene);
  if (scene.tool === 'pen') {
    const effects = penKey(event.key, scene.pen, scene.picture);
    // Closing the outline ends no gesture: the table itself goes on.
    if (effects !== null) return { ...effects, state };
  }
  if (event.key === 'Escape') return { state: { ...state, tape: null }, select: null, marks: [], hint: null };
  return { state };
}

type PointerEvents = Extract<TableEvent, { readonly pointer: PointerSample }>;

/** Mouse and pen. */
function onPointer(before: TableState, event: PointerEvents, scene: TableScene): TableAnswer {
  const { pointer } = event;
  let state: TableState = before;
  let dropped: Effects = {};
  if (pointer.kind === 'pen') {
    const down = event.type === 'press' || (event.type === 'move' && before.palms.penDown);
    state = { ...before, palms: notePen(before.palms, pointer.time, down) };
    // A hand laid down just before the pen was taken for fingers: let that go.
    if (event.type === 'press' && before.fingers.length > 0) {
      dropped = cancelActive(before, scene);
      state = { ...state, active: null, fingers: [] };
    }
  }
  if (state.active !== null) return advance(state, event, scene);
  if (event.type === 'press') return { ...dropped, ...begin(state, pointer, scene) };
  if (event.type === 'leave') return leave(state, scene);
  if (event.type === 'move') return hover(state, pointer, scene);
  return { ...dropped, state };
}

/** Fingers pan and pinch; one finger may also use a handle or a tool, until a pen has been seen. */
function onTouch(before: TableState, event: PointerEvents, scene: TableScene): TableAnswer {
  const { pointer } = event;
  if (event.type === 'press') {
    if (isPalm(before.palms, pointer)) return { state: before };
    const fingers = [...before.fingers, { id: pointer.id, at: pointer.at }];
    if (before.active?.kind === 'dart') {
      // Its points are set one by one; a second finger means none of them.
      const type = fingers.length === 1 ? 'press' : 'cancel';
      return advance({ ...before, fingers }, { ...event, type }, scene);
    }
    if (fingers.length === 1) {
      const state = { ...before, fingers };
      if (before.active !== null) return { state };
      if (before.palms.penSeen) return { state: { ...state, active: startPan(pointer, scene) } };
      return begin(state, pointer, scene);
    }
    if (fingers.length === 2 && isFingerGesture(before.active, before.fingers)) {
      const dropped = cancelActive(before, scene);
      const [first, second] = fingers as [TableState['fingers'][number], TableState['fingers'][number]];
      return { ...dropped, state: { ...before, fingers, active: startPinch(first, second, scene) } };
    }
    return { state: { ...before, fingers } };
  }
  if (!before.fingers.some((finger) => finger.id === pointer.id)) return { state: before };
  const lifted = event.type === 'release' || event.type === 'cancel' || event.type === 'leave';
  const fingers = lifted
    ? before.fingers.filter((finger) => finger.id !== pointer.id)
    : before.fingers.map((finger) => (finger.id === pointer.id ? { ...finger, at: pointer.at } : finger));
  const state = { ...before, fingers };
  if (state.active === null) return { state };
  const answer = advance(state, event.type === 'leave' ? { ...event, type: 'cancel' } : event, scene);
  // One finger of a pinch lifted: the other goes on pushing the sheet.
  const [left] = fingers;
  if (before.active?.kind === 'pinch' && answer.state.active === null && left !== undefined) {
    const resumed = { ...pointer, id: left.id, at: left.at };
    return { ...answer, state: { ...answer.state, active: startPan(resumed, scene) } };
  }
  return answer;
}

/** Whether what is under way was begun by a finger, so that a second finger may turn it into a pinch. */
function isFingerGesture(active: ActiveGesture | null, fingers: TableState['fingers']): boolean {
  if (active === null) return true;
  return 'pointer' in active && fingers.some((finger) => finger.id === active.pointer);
}

/** Takes back whatever the gesture under way has shown. */
function cancelActive(state: TableState, scene: TableScene): Effects {
  if (state.active === null || !('pointer' in state.active)) return {};
  const { pointer } = state.active;
  const sample: PointerSample = {
    id: pointer,
    kind: 'touch',
    at: { left: 0, top: 0 },
    button: 0,
    alt: false,
    shift: false,
    contact: 0,
    time: 0,
  };
  const { state: _, ...effects } = step(state.active, { type: 'cancel', pointer: sample }, scene);
  return effects;
}

function advance(state: TableState, event: TableEvent, scene: TableScene): TableAnswer {
  const answer = step(state.active!, event, scene);
  const tape = state.active!.kind === 'measure' && answer.state === null ? (answer.marks?.[0] ?? null) : state.tape;
  return { ...answer, state: { ...state, active: answer.state, tape } };
}

function step(active: ActiveGesture, event: TableEvent, scene: TableScene): Step<ActiveGesture> {
  switch (active.kind) {
    case 'pan':
      return pan(active, event, scene);
    case 'pinch':
      return pinch(active, event, scene);
    case 'pen':
      return drawPen(active, event, scene);
    case 'corner':
      return dragCorner(active, event, scene);
    case 'place-mark':
      return placeMark(active, event, scene);
    case 'dart':
      return drawDart(active, event, scene);
    case 'measure':
      return measure(active, event, scene);
    case 'page':
      return dragPage(active, event, scene);
    case 'draft-node':
      return dragDraftNode(active, event, scene);
    case 'fold-line':
      return dragFoldLine(active, event, scene);
    case 'picture-spot':
      return dragSpot(active, event, scene);
    default:
      return dragSelection(active, event, scene);
  }
}

/** What a press begins. */
function begin(state: TableState, pointer: PointerSample, scene: TableScene): TableAnswer {
  const panning: TableAnswer = { state: { ...state, active: startPan(pointer, scene) }, cursor: 'grabbing' };
  if (state.space || pointer.button === 1) return panning;
  if (pointer.button !== 0) return { state };
  const page = scene.tool === 'hand' ? startPage(pointer, scene) : null;
  if (page !== null) return { state: { ...state, active: page }, cursor: 'grabbing' };
  const onPicture = pressOnFoldLine(pointer, scene) ?? pressOnPicture(pointer, scene) ?? pressOnOutline(pointer, scene);
  if (onPicture !== null) {
    const { active, ...effects } = onPicture;
    return { ...effects, state: { ...state, active } };
  }
  switch (scene.tool) {
    case 'pen': {
      const answer = startPen(pointer, scene);
      return { ...answer, state: { ...state, active: answer.state } };
    }
    case 'corner': {
      const active = startCorner(pointer, scene);
      return active === null ? pressHand(state, pointer, scene, panning) : { state: { ...state, active } };
    }
    case 'notch':
    case 'grain':
    case 'drill': {
      const active = startMark(scene.tool, pointer, scene);
      return active === null ? panning : { state: { ...state, active } };
    }
    case 'dart': {
      const active = startDart(pointer, scene);
      return active === null ? panning : { state: { ...state, active } };
    }
    case 'measure':
      return { state: { ...state, active: startMeasure(pointer, scene), tape: null }, marks: [], cursor: 'crosshair' };
    case 'hand':
      return pressHand(state, pointer, scene, panning);
  }
}

/** The hand takes hold of whatever lies under it; on bare table it pushes the sheet. */
function pressHand(state: TableState, pointer: PointerSample, scene: TableScene, panning: TableAnswer): TableAnswer {
  const hit = hitTest(scene, pointer.at, pointer.kind);
  if (hit === null || hit.kind === 'shape' || hit.kind === 'edge' || hit.kind === 'piece') {
    return { ...panning, state: { ...state, active: startPan(pointer, scene, tapOn(hit)) } };
  }
  const selection = hit.kind === 'handle' ? hit.handle.selection : hit.selection;
  const active = startSelectionDrag(selection, pointer, scene);
  return { state: { ...state, active }, select: selection, hint: sentenceOf(hit), cursor: cursorOf(hit) };
}

/** What a tap chooses; a drag from the same place pushes the sheet instead. */
function tapOn(hit: Exclude<Hit, { kind: 'handle' | 'line' }> | null): Effects {
  if (hit === null) return { select: null };
  if (hit.kind === 'shape') return { chooseShape: hit.shape };
  if (hit.kind === 'piece') return { pickPiece: hit.piece, select: null };
  return { pickPiece: hit.piece, select: { kind: 'edge', piece: hit.piece, edge: hit.edge } };
}

function hover(state: TableState, pointer: PointerSample, scene: TableScene): TableAnswer {
  if (state.space) return { state, cursor: 'grab' };
  const onPage = scene.tool === 'hand' ? hoverPage(pointer, scene) : null;
  if (onPage !== null) return { state, ...onPage };
  const onPicture = hoverFoldLine(pointer, scene) ?? hoverPicture(pointer, scene) ?? hoverOutline(pointer, scene);
  if (onPicture !== null) return { state, ...onPicture };
  switch (scene.tool) {
    case 'pen':
      return { state, ...hoverPen(pointer, scene) };
    case 'corner':
      return { state, ...hoverCorner(pointer, scene) };
    case 'notch':
    case 'grain':
    case 'drill':
      return { state, ...hoverMark(scene.tool, pointer, scene) };
    case 'dart':
      return { state, ...hoverDart(pointer, scene) };
    case 'measure': {
      const shown = hoverMeasure(pointer, scene);
      return { state, ...shown, marks: [...tapeMarks(state, scene), ...(shown.marks ?? [])] };
    }
    case 'hand': {
      const hit = hitTest(scene, pointer.at, pointer.kind);
      // The same thing as before stays the same object, so that nothing is drawn anew for it.
      const known = hit !== null && state.hover !== null && sameHit(hit, state.hover);
      return {
        state: known ? state : { ...state, hover: hit },
        hint: hit === null ? null : sentenceOf(hit),
        cursor: hit === null ? 'default' : cursorOf(hit),
      };
    }
  }
}

/** The pointer left the table: nothing hovers, no next point of the pen is shown. */
function leave(state: TableState, scene: TableScene): TableAnswer {
  const pen = scene.pen.next === null ? {} : { pen: { ...scene.pen, next: null } };
  return { state: { ...state, hover: null }, ...pen, marks: tapeMarks(state, scene), hint: null, cursor: 'default' };
}

function tapeMarks(state: TableState, scene: TableScene): readonly Mark[] {
  return state.tape !== null && scene.tool === 'measure' ? [state.tape] : [];
}

function sameHit(a: Hit, b: Hit): boolean {
  if (a.kind !== b.kind || sentenceOf(a) !== sentenceOf(b)) return false;
  if (a.kind === 'handle' && b.kind === 'handle') return sameSelection(a.handle.selection, b.handle.selection);
  if (a.kind === 'line' && b.kind === 'line') return sameSelection(a.selection, b.selection);
  return 'piece' in a && 'piece' in b ? a.piece === b.piece : true;
}

function sentenceOf(hit: Hit): string {
  return hit.kind === 'handle' ? hit.handle.sentence : hit.sentence;
}

function cursorOf(hit: Hit): NonNullable<Effects['cursor']> {
  if (hit.kind === 'handle') return hit.handle.cursor;
  return hit.kind === 'line' ? hit.cursor : 'pointer';
}
