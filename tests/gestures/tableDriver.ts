import { readFileSync } from 'node:fs';
import { readProject } from '../../src/exchange/project/projectFile';
import { carryOut } from '../../src/gestures/carryOut';
import { onTable, type ScreenPoint, screenAt, type TablePoint, type ViewSize } from '../../src/gestures/frames';
import type { Cursor, Mark, PointerSample, TableEvent } from '../../src/gestures/gesture';
import { handlesOf, sameSelection } from '../../src/gestures/handles';
import type { PointerKind } from '../../src/gestures/reach';
import { activePieceOf, type SeeLine, type TableScene } from '../../src/gestures/scene';
import { createSceneReader } from '../../src/gestures/sceneNow';
import { idleTable, reduceTable } from '../../src/gestures/table';
import type { Garment } from '../../src/pattern/garment';
import type { AppStore } from '../../src/store/appCommands';
import type { Selection } from '../../src/store/appState';
import { type BringInStore, createBringInStore } from '../../src/store/bringIn';
import { must, testStore } from '../support/testStore';

export function sampleGarment(name: 'sleeveless-top' | 'straight-skirt'): Garment {
  return must(readProject(readFileSync(`public/samples/${name}.json`, 'utf8')));
}

export function screenPoint(left: number, top: number): ScreenPoint {
  return { left, top };
}

export interface DriverOptions {
  readonly garment?: Garment;
  readonly kind?: PointerKind;
  /** Pixels per mm. */
  readonly zoom?: number;
}

type Held = {
  readonly alt?: boolean;
  readonly shift?: boolean;
  readonly button?: number;
  readonly id?: number;
  readonly kind?: PointerKind;
  readonly contact?: number;
};

/** A table without a screen: the same reducers and stores as the app, driven by made-up pointers at any zoom. */
export class TableDriver {
  readonly store: AppStore;
  readonly bringIn: BringInStore = createBringInStore();
  readonly view: ViewSize = { width: 1200, height: 800 };
  marks: readonly Mark[] = [];
  cursor: Cursor = 'default';
  chosen: string[] = [];
  /** What a picture under the outline would show; null for nothing. */
  seeLine: SeeLine = () => null;
  private readonly read = createSceneReader((at, reach) => this.seeLine(at, reach));
  private state = idleTable;
  private clock = 0;
  private last = { left: 0, top: 0 };

  constructor(private readonly options: DriverOptions = {}) {
    this.store = testStore(options.garment ?? sampleGarment('sleeveless-top'));
    this.store.actions.look({ centre: { x: 200, y: 400 }, pixelsPerMm: options.zoom ?? 1 });
  }

  /** A version with 4 slash lines of 40 mm each, 60 mm down the side, in the Fan place. */
  fanned(): this {
    must(this.store.commands.startVersion('Swing'));
    must(this.store.commands.moveFullnessLine('front', 60));
    must(this.store.commands.setSlashCount('front', 4));
    must(this.store.commands.setOpeningForAll('front', 40));
    this.store.actions.goTo('fan');
    return this;
  }

  get scene(): TableScene {
    return this.read(this.store.getState(), this.bringIn.getState(), this.view);
  }

  get gesture(): string | null {
    return this.state.active?.kind ?? null;
  }

  get steps(): number {
    return this.store.getState().past.length;
  }

  send(event: TableEvent): void {
    const { state, ...effects } = reduceTable(this.state, event, this.scene);
    this.state = state;
    carryOut(effects, { app: this.store, bringIn: this.bringIn, chooseShape: (shape) => this.chosen.push(shape) });
    if (effects.marks !== undefined) this.marks = effects.marks;
    if (effects.cursor !== undefined) this.cursor = effects.cursor;
  }

  press(at: TablePoint, held: Held = {}): void {
    this.send({ type: 'press', pointer: this.sample(at, held) });
  }

  move(at: TablePoint, held: Held = {}): void {
    this.send({ type: 'move', pointer: this.sample(at, held) });
  }

  release(at: TablePoint, held: Held = {}): void {
    this.send({ type: 'release', pointer: this.sample(at, held) });
  }

  cancel(held: Held = {}): void {
    const pointer = { ...this.sample({ across: 0, down: 0 }, held), at: this.last };
    this.send({ type: 'cancel', pointer });
  }

  key(key: string): void {
    this.send({ type: 'key', key, shift: false });
  }

  tap(at: TablePoint, held: Held = {}): void {
    this.press(at, held);
    this.release(at, held);
  }

  /** Presses, moves there in several frames, and lets go. */
  drag(from: TablePoint, to: TablePoint, held: Held = {}): void {
    this.press(from, held);
    for (const part of [0.2, 0.5, 0.9, 1]) {
      this.move(
        { across: from.across + (to.across - from.across) * part, down: from.down + (to.down - from.down) * part },
        held,
      );
    }
    this.release(to, held);
  }

  /** Where a handle of the active piece lies on the table. */
  handle(selection: Selection): TablePoint {
    const found = handlesOf(this.scene).find((handle) => sameSelection(handle.selection, selection));
    if (found === undefined) throw new Error(`No handle for ${JSON.stringify(selection)}`);
    return onTable(found.at, activePieceOf(this.scene)!.offset);
  }

  wait(milliseconds: number): void {
    this.clock += milliseconds;
  }

  private sample(at: TablePoint, held: Held): PointerSample {
    this.clock += 16;
    // The camera may have moved meanwhile, as under a real hand.
    this.last = screenAt(this.store.getState().camera, this.view, at);
    return {
      id: held.id ?? 1,
      kind: held.kind ?? this.options.kind ?? 'mouse',
      at: this.last,
      button: held.button ?? 0,
      alt: held.alt ?? false,
      shift: held.shift ?? false,
      contact: held.contact ?? 0,
      time: this.clock,
    };
  }
}

export function moved(from: TablePoint, right: number, down: number): TablePoint {
  return { across: from.across + right, down: from.down + down };
}
