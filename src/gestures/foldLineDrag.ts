import type { Point } from '../geometry/point';
import type { BringInDraft } from '../store/bringIn';
import { withStep } from '../store/draftHistory';
import { withFoldEnd } from '../store/foldLine';
import { letGo } from './drag';
import { type ScreenPoint, tableAt } from './frames';
import type { Effects, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import type { TableScene } from './scene';

/** One end of the line at which a piece drawn whole will be folded, being dragged; the other end stays. */
export interface FoldLineDrag {
  readonly kind: 'fold-line';
  readonly pointer: number;
  readonly end: 'from' | 'to';
  /** The draft as it was when the press began. */
  readonly before: BringInDraft;
}

const hint = 'Drag this end of the fold; the other stays';

export function pressOnFoldLine(
  pointer: PointerSample,
  scene: TableScene,
): (Effects & { active: FoldLineDrag }) | null {
  const end = endUnder(pointer, scene);
  if (end === null || scene.draft === null) return null;
  const active: FoldLineDrag = { kind: 'fold-line', pointer: pointer.id, end, before: scene.draft };
  return { active, hint, marks: [], cursor: 'move' };
}

export function hoverFoldLine(pointer: PointerSample, scene: TableScene): Effects | null {
  return endUnder(pointer, scene) === null ? null : { marks: [], hint, cursor: 'move' };
}

export function dragFoldLine(state: FoldLineDrag, event: TableEvent, scene: TableScene): Step<FoldLineDrag> {
  const drop = { ...letGo, layDraft: state.before };
  if (event.type === 'key' && event.key === 'Escape') return drop;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel') return drop;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const layDraft = withFoldEnd(state.before, state.end, placeOf(event.pointer.at, scene));
  if (event.type === 'move') return { state, layDraft, cursor: 'move' };
  const done = layDraft === state.before ? layDraft : withStep(state.before, layDraft, 'the line of the fold');
  return { state: null, layDraft: done, marks: [], hint: null };
}

function endUnder(pointer: PointerSample, scene: TableScene): 'from' | 'to' | null {
  const { draft, place } = scene;
  const line = draft?.lie?.whole === null && place === 'bring-in' ? draft.lie.line : null;
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
