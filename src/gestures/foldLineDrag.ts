import type { Point } from '../geometry/point';
import type { BringInDraft } from '../store/bringIn';
import { withStep } from '../store/draftHistory';
import { withFoldEnd } from '../store/foldLine';
import { letGo } from './drag';
import { type FoldEnd, openFold, saysOfFoldEnd } from './foldLineKeys';
import { type ScreenPoint, screenDistance, tableAt } from './frames';
import type { Effects, PointerSample, Step, TableEvent } from './gesture';
import { reachMm, reachPixels } from './reach';
import type { TableScene } from './scene';

/** One end of the line at which a piece drawn whole will be folded, being dragged; the other end stays. */
export interface FoldLineDrag {
  readonly kind: 'fold-line';
  readonly pointer: number;
  readonly pressedAt: ScreenPoint;
  readonly pressed: Point;
  readonly end: FoldEnd;
  /** The draft as it was when the press began. */
  readonly before: BringInDraft;
  readonly began: boolean;
}

export function pressOnFoldLine(
  pointer: PointerSample,
  scene: TableScene,
): (Effects & { active: FoldLineDrag }) | null {
  const end = endUnder(pointer, scene);
  if (end === null || scene.draft === null) return null;
  const active: FoldLineDrag = {
    kind: 'fold-line',
    pointer: pointer.id,
    pressedAt: pointer.at,
    pressed: placeOf(pointer.at, scene),
    end,
    before: scene.draft,
    began: false,
  };
  const layDraft = { ...scene.draft, node: null, foldEnd: end };
  return { active, layDraft, hint: saysOfFoldEnd, marks: [], cursor: 'move' };
}

export function hoverFoldLine(pointer: PointerSample, scene: TableScene): Effects | null {
  return endUnder(pointer, scene) === null ? null : { marks: [], hint: saysOfFoldEnd, cursor: 'move' };
}

/** Moves the end by as much as the pointer moves: a fingertip beside it never jumps onto it. */
export function dragFoldLine(state: FoldLineDrag, event: TableEvent, scene: TableScene): Step<FoldLineDrag> {
  const chosen = { ...state.before, node: null, foldEnd: state.end };
  const drop = { ...letGo, layDraft: chosen };
  if (event.type === 'key' && event.key === 'Escape') return drop;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel') return drop;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const { pointer } = event;
  const began = state.began || screenDistance(pointer.at, state.pressedAt) >= reachPixels('drag', pointer.kind);
  const line = state.before.lie?.line;
  if (!began || line == null) return { state: event.type === 'release' ? null : state, cursor: 'move' };
  const at = placeOf(pointer.at, scene);
  const was = line[state.end];
  const to = { x: was.x + at.x - state.pressed.x, y: was.y + at.y - state.pressed.y };
  const layDraft = withFoldEnd(chosen, state.end, to);
  if (event.type === 'move') return { state: { ...state, began }, layDraft, cursor: 'move' };
  const done = layDraft === chosen ? layDraft : withStep(state.before, layDraft, 'the line of the fold');
  return { state: null, layDraft: done, marks: [], hint: null };
}

function endUnder(pointer: PointerSample, scene: TableScene): FoldEnd | null {
  const line = openFold(scene);
  if (line === null) return null;
  const at = placeOf(pointer.at, scene);
  const [from, to] = [line.from, line.to].map((end) => Math.hypot(end.x - at.x, end.y - at.y));
  const nearest = Math.min(from!, to!);
  if (nearest > reachMm('handle', pointer.kind, scene.camera)) return null;
  return nearest === from ? 'from' : 'to';
}

function placeOf(at: ScreenPoint, scene: TableScene): Point {
  const { across, down } = tableAt(scene.camera, scene.view, at);
  return { x: across, y: down };
}
