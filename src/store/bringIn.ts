import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { EdgeRole } from '../pattern/piece';

/**
 * What lies on the table before it is a pattern piece: shapes read from a file or drawn with the pen, the corners
 * that will part the outline into edges, and the question of scale. None of it is in the document and none of it is
 * undone; naming the edges turns it into a block piece by one ordinary commit.
 */
export interface BringInState {
  readonly draft: BringInDraft | null;
  /** The outline being drawn with the pen; no nodes when nothing is under way. */
  readonly pen: PenDraft;
}

export interface BringInDraft {
  /** File name, or a few words such as `drawn by hand`. */
  readonly source: string;
  /** Name the piece will get. */
  readonly name: string;
  /** Everything that was read, mm (file units as mm while the scale is still asked for), y down. */
  readonly shapes: readonly DraftShape[];
  /** Id of the shape that is the outline; null until one is chosen. */
  readonly outline: string | null;
  /** The chosen outline, closed, counter-clockwise as seen on screen; null until one is chosen. */
  readonly path: Path | null;
  /** In order along `path`. Each says where an edge starts and what that edge is. */
  readonly corners: readonly DraftCorner[];
  readonly scale: DraftScale;
  /** What was joined and left out of the file's lines, for the maker. */
  readonly notes?: readonly string[];
  /** How the chosen outline was redrawn, for the maker; null when it is as it was read. */
  readonly outlineNote?: string | null;
}

export interface DraftShape {
  readonly id: string;
  readonly name: string;
  readonly path: Path;
  readonly closed: boolean;
  /** What else tells it from its neighbours: layer, dashes; sizes are often kept apart by them. */
  readonly told?: string;
  /** Words that stand inside it or close by, to be offered as the piece's name; absent where there are none. */
  readonly nearText?: string;
}

/** A corner of an outline, and the edge that starts there (running on to the next corner). */
export interface DraftCorner {
  /** Index of the outline's segment. */
  readonly segment: number;
  /** Parameter on that segment, 0 up to but not including 1. */
  readonly t: number;
  readonly name: string;
  readonly role: EdgeRole;
}

export type DraftScale =
  | { readonly kind: 'certain'; readonly sentence: string }
  /** One known length is needed. `from` and `to` are the two points measured on the table, null until measured. */
  | {
      readonly kind: 'ask';
      readonly sentence: string;
      readonly from: Point | null;
      readonly to: Point | null;
      /** Usual scales, offered and never chosen for the maker. */
      readonly suggestions?: readonly { readonly label: string; readonly mmPerUnit: number }[];
    };

/** A point set with the pen, with its curve handles (absolute points, mm); null handles make a plain corner. */
export interface PenNode {
  readonly at: Point;
  readonly handleIn: Point | null;
  readonly handleOut: Point | null;
}

export interface PenDraft {
  readonly nodes: readonly PenNode[];
  /** Where the next point would go; null while the pointer is away. */
  readonly next: Point | null;
}

export interface BringInActions {
  /** Lays a draft on the table, or takes it off with null. */
  layDraft(draft: BringInDraft | null): void;
  setCorners(corners: readonly DraftCorner[]): void;
  /** The two ends of the known length, mm on the table. Nothing happens when no length is asked for. */
  measureScale(from: Point, to: Point): void;
  drawPen(pen: PenDraft): void;
  /** Takes back one point; true when there was one to take back. */
  takeBackPoint(): boolean;
}

export type BringInStore = StoreApi<BringInState> & { readonly actions: BringInActions };

export const noPen: PenDraft = { nodes: [], next: null };

export function createBringInStore(): BringInStore {
  const store = createStore<BringInState>(() => ({ draft: null, pen: noPen }));
  const actions: BringInActions = {
    layDraft: (draft) => store.setState({ draft }),
    setCorners: (corners) => {
      const { draft } = store.getState();
      if (draft !== null) store.setState({ draft: { ...draft, corners } });
    },
    measureScale: (from, to) => {
      const { draft } = store.getState();
      if (draft?.scale.kind !== 'ask') return;
      store.setState({ draft: { ...draft, scale: { ...draft.scale, from, to } } });
    },
    drawPen: (pen) => store.setState({ pen }),
    takeBackPoint: () => {
      const { pen } = store.getState();
      if (pen.nodes.length === 0) return false;
      store.setState({ pen: { ...pen, nodes: pen.nodes.slice(0, -1) } });
      return true;
    },
  };
  return Object.assign(store, { actions });
}
