import { type ScreenPoint, screenDistance, type TablePoint, tableAt } from './frames';
import type { Cursor, Mark, Order, PointerSample, Step, TableEvent } from './gesture';
import { reachPixels } from './reach';
import type { TableScene } from './scene';

/** A press on something that can be dragged, and how far it has got. Plain data; the document is not in it. */
export interface Drag<Value> {
  readonly pointer: number;
  readonly pressedAt: ScreenPoint;
  readonly pressed: TablePoint;
  /** False until the pointer has moved far enough to mean it. */
  readonly began: boolean;
  readonly initial: Value;
  readonly value: Value;
}

/** What a drag does with the distance moved since the press. */
export interface DragRule<Value> {
  /** The value after moving by so many mm on the table since the press (not since the last event). */
  valueAt(
    right: number,
    down: number,
    pointer: PointerSample,
  ): { readonly value: Value; readonly word?: string | null; readonly marks?: readonly Mark[] };
  same(a: Value, b: Value): boolean;
  order(value: Value): Order;
  /** One line for the hint, about the value reached. */
  says(value: Value): string;
  readonly cursor: Cursor;
}

export function startDrag<Value>(pointer: PointerSample, scene: TableScene, initial: Value): Drag<Value> {
  return {
    pointer: pointer.id,
    pressedAt: pointer.at,
    pressed: tableAt(scene.camera, scene.view, pointer.at),
    began: false,
    initial,
    value: initial,
  };
}

/** Ends a gesture and puts everything back as it was. */
export const letGo = { state: null, preview: null, marks: [], hint: null } as const;

/**
 * The course every drag shares: nothing until the pointer has really moved, then a preview of the press-time document
 * with the whole change, then one commit on release. Escape and pointer cancel drop it; a drag that ends where it
 * began commits nothing.
 */
export function reduceDrag<Value, State extends Drag<Value>>(
  state: State & Drag<Value>,
  event: TableEvent,
  scene: TableScene,
  rule: DragRule<Value>,
): Step<State> {
  if (event.type === 'key' && event.key === 'Escape') return letGo;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel') return letGo;
  if (event.type !== 'move' && event.type !== 'release') return { state };

  const { pointer } = event;
  const began = state.began || screenDistance(state.pressedAt, pointer.at) >= reachPixels('drag', pointer.kind);
  if (!began) return event.type === 'release' ? { state: null } : { state, cursor: rule.cursor };

  const at = tableAt(scene.camera, scene.view, pointer.at);
  const { value, word, marks } = rule.valueAt(at.across - state.pressed.across, at.down - state.pressed.down, pointer);
  if (event.type === 'release') {
    if (rule.same(value, state.initial)) return letGo;
    return { state: null, commit: rule.order(value), marks: [], hint: null };
  }
  const next = { ...state, began, value };
  const hint = word ? `${rule.says(value)} (${word})` : rule.says(value);
  const shown = { state: next, marks: marks ?? [], cursor: rule.cursor, hint };
  if (rule.same(value, state.value) && state.began) return shown;
  return { ...shown, preview: rule.same(value, state.initial) ? null : rule.order(value) };
}
